import type { JSX } from 'preact';
import { useBox } from '../shared/use-box.js';
import { FloorPager } from './floor-pager.js';
import { floorOrder } from './floor-order.js';
import { pageOfFloor } from './floor-pages.js';
import { layTiles } from './tile-layout.js';
import { Tile } from './tile.js';
import { usePaging } from './use-paging.js';

/** Under this the page is on no monitor above a shop: tiles follow one another and the page scrolls, px. */
const least = { width: 700, height: 360 };

/** Tiles of all carriages, as large as the screen lets them be. */
export function TileGrid(): JSX.Element {
  const { keys, troubled } = floorOrder.value;
  const { box, place } = useBox<HTMLDivElement>();
  const isWall = box.width >= least.width && window.innerHeight >= least.height;
  const layout = layTiles(keys.length, troubled, box.width, Math.max(box.height, 1));
  const several = isWall && layout.perPage < keys.length;
  const paging = usePaging(several);
  const shown = isWall ? pageOfFloor(keys, troubled, layout.perPage, paging.page) : { keys, pages: 1, page: 0, pinned: false };
  const style = isWall
    ? { '--unit': `${layout.unit}px`, gridTemplateColumns: `repeat(${layout.columns}, minmax(0, 1fr))`, gridTemplateRows: `repeat(${layout.rows}, minmax(0, 1fr))` }
    : {};
  return (
    <>
      <div class={isWall ? 'tile-room' : 'tile-room tile-room-scrolls'} ref={place}>
        {box.width > 0 && (
          <ul class="tiles" style={style}>
            {shown.keys.map((key, at) => (
              <Tile key={key} id={key} large={!isWall || at < layout.large} />
            ))}
          </ul>
        )}
      </div>
      {several && <FloorPager paging={paging} shown={shown} />}
    </>
  );
}
