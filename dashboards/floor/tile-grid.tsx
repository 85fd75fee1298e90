import { Fragment, type JSX } from 'preact';
import { useBox } from '../shared/use-box.js';
import { FloorPager, usePaging } from './floor-pager.js';
import { layFloor, layScrolling } from './floor-layout.js';
import { pageOfFloor } from './floor-pages.js';
import { floorState } from './floor-state.js';
import { Tile } from './tile.js';
import { TroubleList } from './trouble-list.js';

/** Under this the page is on no monitor above a shop: tiles follow one another and the page scrolls, px. */
const least = { width: 700, height: 360 };
/** With at least this many carriages, those in trouble are also listed beside the others; common practice, no source. */
const listedFrom = 13;
/** Type and least width of a tile where the page scrolls, px; as in tile.css. */
const scrolling = { unit: 18, least: 320 };

/** Tiles of all carriages, each in a fixed place, as large as the screen allows. */
export function TileGrid(): JSX.Element {
  const { keys } = floorState.value;
  const { box, place } = useBox<HTMLDivElement>();
  const isWall = box.width >= least.width && window.innerHeight >= least.height;
  const layout = layFloor(hallsOf(keys).map((own) => own.keys.length), box.width, Math.max(box.height, 1), window.innerWidth);
  const { room, high, unit } = isWall ? layout : layScrolling(box.width, scrolling.unit, scrolling.least);
  const several = isWall && layout.perPage < keys.length;
  const paging = usePaging(several);
  const shown = pageOfFloor(keys, isWall ? layout.perPage : keys.length, paging.page);
  const halls = hallsOf(shown.keys);
  const style = isWall ? { '--unit': `${layout.unit}px`, '--tile-height': `${layout.tileHeight}px`, gridTemplateColumns: `repeat(${layout.columns}, minmax(0, 1fr))` } : {};
  return (
    <>
      <div class="floor-middle">
        <div class={isWall ? 'tile-room' : 'tile-room tile-room-scrolls'} ref={place}>
          {box.width > 0 &&
            halls.map((hall) => (
              <Fragment key={hall.site}>
                {hallsOf(keys).length > 1 && <h2 class="hall" style={style}>{hall.site}</h2>}
                <ul class={`tiles tiles-${isWall ? layout.kind : 'full'}`} style={style} aria-label={hall.site}>
                  {hall.keys.map((key) => (
                    <Tile key={key} id={key} kind={isWall ? layout.kind : 'full'} room={room} high={high} unit={unit} />
                  ))}
                </ul>
              </Fragment>
            ))}
        </div>
        {isWall && keys.length >= listedFrom && <TroubleList />}
      </div>
      {several && <FloorPager paging={paging} shown={shown} />}
    </>
  );
}

function hallsOf(keys: readonly string[]): readonly { readonly site: string; readonly keys: readonly string[] }[] {
  const halls = new Map<string, string[]>();
  for (const key of keys) {
    const site = key.slice(0, key.indexOf('/'));
    halls.set(site, [...(halls.get(site) ?? []), key]);
  }
  return [...halls].map(([site, own]) => ({ site, keys: own }));
}
