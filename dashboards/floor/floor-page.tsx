import { computed } from '@preact/signals';
import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import { carriageAt, carriageKeys } from '../shared/carriages-now.js';
import { health } from '../shared/health.js';
import { isConnected } from '../shared/is-connected.js';
import { carriagesKnown, opened } from '../shared/live-feed.js';
import { serverNow } from '../shared/now.js';
import { formatAge } from '../shared/times.js';
import { usePageTitle } from '../shared/use-page-title.js';
import { floorState } from './floor-state.js';
import { floorWords } from './floor-words.js';
import './floor.css';
import './tile.css';
import { MostUrgent } from './most-urgent.js';
import { NoCarriage } from './no-carriage.js';
import { ShiftLine } from './shift-line.js';
import { TileGrid } from './tile-grid.js';

/** Every carriage at once, for a monitor above the shop: each in its own place, with what is wrong first. */
export function FloorPage(): JSX.Element {
  const say = floorWords();
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
  const say = floorWords();
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

/** Time of the newest item of any carriage, ms; null where there is none. */
const newestData = computed(() => {
  let newest = '';
  for (const key of floorState.value.keys) {
    const seen = carriageAt(key)?.value.lastSeen ?? '';
    if (seen > newest) newest = seen;
  }
  return newest === '' ? null : Date.parse(newest);
});

/** How many carriages are simulated: every page must say so, and small tiles have no room for it. */
const simulatedNow = computed(() => floorState.value.keys.filter((key) => carriageAt(key)?.value.assignment?.simulated === true).length);

/** Data that is younger than this is as good as live, ms. */
const liveFor = 2_000;

/** How many carriages there are, how many are in alarm, and of how many nothing is known; the last are counted as nothing else. */
function FloorSummary(): JSX.Element {
  const say = floorWords();
  const { keys, welding, wrong, warned, lost, cause } = floorState.value;
  const age = newestData.value === null ? null : serverNow.value - newestData.value;
  return (
    <p class="floor-summary">
      <span>{say.carriages(keys.length)}</span>
      {lost > 0 && <strong>{say.lost(lost)}</strong>}
      {lost < keys.length && <span>{say.welding(welding)}</span>}
      {wrong > 0 && <strong class="out-text">{say.inAlarm(wrong)}</strong>}
      {cause !== null && <strong class="out-text">{say.silentTogether(cause.keys.length)}</strong>}
      {wrong === 0 && cause === null && lost === 0 && <strong>{say.allWell}</strong>}
      {warned > 0 && <span>{say.toLookAt(warned)}</span>}
      {simulatedNow.value > 0 && <span class="floor-live">{say.simulated(simulatedNow.value)}</span>}
      {age !== null && welding > 0 && isConnected.value && <span class="floor-live">{age < liveFor ? say.live : say.dataAge(formatAge(age))}</span>}
      {age !== null && !isConnected.value && <span class="floor-live">{say.dataAge(formatAge(age))}</span>}
    </p>
  );
}
