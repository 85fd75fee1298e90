import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import { carriageKeys } from '../shared/carriages-now.js';
import { health } from '../shared/health.js';
import { carriagesKnown, opened } from '../shared/live-feed.js';
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

/** A monitor that nobody touches would show the pages of an earlier version for ever, so after each reconnection it checks for newer ones. */
function useNewPages(): void {
  const times = opened.value;
  useEffect(() => {
    // The first connection is that of the page just loaded.
    if (times < 2) return;
    void reloadWhereNew();
  }, [times]);
}

async function reloadWhereNew(): Promise<void> {
  const own = document.querySelector<HTMLScriptElement>('script[type="module"][src]')?.getAttribute('src');
  if (own === null || own === undefined) return;
  try {
    const answer = await fetch('./', { cache: 'no-store', headers: { accept: 'text/html' } });
    if (!answer.ok) return;
    const found = new DOMParser().parseFromString(await answer.text(), 'text/html').querySelector('script[type="module"][src]')?.getAttribute('src');
    if (found !== null && found !== undefined && found !== own) window.location.reload();
  } catch {
    // The service was not reached; the next connection tries again.
  }
}
