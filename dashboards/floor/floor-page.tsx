import type { JSX } from 'preact';
import { carriageKeys } from '../shared/carriages-now.js';
import { health } from '../shared/health.js';
import { carriagesKnown } from '../shared/live-feed.js';
import { usePageTitle } from '../shared/use-page-title.js';
import { wordsOf } from '../shared/words.js';
import { FloorSummary } from './floor-summary.js';
import { floorWords } from './floor-words.js';
import './floor.css';
import './tile.css';
import { MostUrgent } from './most-urgent.js';
import { NoCarriage } from './no-carriage.js';
import { ShiftLine } from './shift-line.js';
import { TileGrid } from './tile-grid.js';
import { useNewPages } from './use-new-pages.js';

/** Every carriage at once, for a monitor above the shop: each in its own place, with what is wrong first. */
export function FloorPage(): JSX.Element {
  const say = wordsOf(floorWords);
  usePageTitle(say.title);
  useNewPages();
  const any = carriageKeys.value.length > 0;
  return (
    <div class={any ? 'floor' : 'floor-empty'}>
      <div class="floor-top">
        <h1 tabIndex={-1} class={any ? 'unseen' : undefined}>{say.title}</h1>
        {any && <FloorSummary />}
        {(any || carriagesKnown.value) && <ShiftLine />}
      </div>
      {any && <MostUrgent />}
      {any ? <TileGrid /> : <Nothing />}
    </div>
  );
}

function Nothing(): JSX.Element {
  const say = wordsOf(floorWords);
  if (carriagesKnown.value) return <NoCarriage />;
  return <p class="empty">{health.value.is === 'unreachable' ? say.nothingYet : say.loading}</p>;
}
