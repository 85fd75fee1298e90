import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import { carriageKeys } from '../shared/carriages-now.js';
import { health } from '../shared/health.js';
import { carriagesKnown } from '../shared/live-feed.js';
import { wordsOf } from '../shared/words.js';
import { FloorSummary } from './floor-summary.js';
import { floorWords } from './floor-words.js';
import './floor.css';
import { NewestAlarm } from './newest-alarm.js';
import { NoCarriage } from './no-carriage.js';
import { TileGrid } from './tile-grid.js';
import { useNewPages } from './use-new-pages.js';

/** Every carriage at once, for a monitor above the shop: those in trouble first. */
export function FloorPage(): JSX.Element {
  const say = wordsOf(floorWords);
  useEffect(() => {
    document.title = `${say.title} · Seamwarden`;
  }, [say]);
  useNewPages();
  const any = carriageKeys.value.length > 0;
  return (
    <div class={any ? 'floor' : 'floor-empty'}>
      <div class="floor-top">
        <h1 tabIndex={-1}>{say.title}</h1>
        {any && <FloorSummary />}
      </div>
      {any && <NewestAlarm />}
      {any ? <TileGrid /> : <Nothing />}
    </div>
  );
}

function Nothing(): JSX.Element {
  const say = wordsOf(floorWords);
  if (carriagesKnown.value) return <NoCarriage />;
  return <p class="empty">{health.value.is === 'unreachable' ? say.nothingYet : say.asking}</p>;
}
