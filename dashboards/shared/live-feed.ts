import { effect, signal } from '@preact/signals';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { Run } from '../../shared/api-types/run.js';
import { fetchCarriages } from './api.js';
import { dropOthers, takeCarriage } from './carriages-now.js';
import { askHealthNow, health } from './health.js';
import { hearSentAfter } from './now.js';

export type FeedState =
  | { readonly is: 'connecting' }
  | { readonly is: 'open' }
  | { readonly is: 'paused' }
  | { readonly is: 'lost'; readonly since: number };

export const feed = signal<FeedState>({ is: 'connecting' });

/** Grows each time the feed opens: what was read before may be old by then. */
export const opened = signal(0);

/** Whether the list of carriages has been answered since the feed was opened first. */
export const carriagesKnown = signal(false);

const runListeners = new Set<(run: Run) => void>();
const againAfter = 2_000;
let source: EventSource | null = null;

/** Hears of runs as they change; gives back how to stop. */
export function onRun(listener: (run: Run) => void): () => void {
  runListeners.add(listener);
  return () => runListeners.delete(listener);
}

/** Keeps one feed open while the page is seen: browsers allow few connections to one server over all their tabs. */
export function startLiveFeed(): void {
  document.addEventListener('visibilitychange', followVisibility);
  effect(() => {
    if (health.value.is === 'good' && feed.peek().is === 'lost') connect();
  });
  setInterval(() => {
    // A browser gives up for good where it was refused.
    if (source?.readyState === EventSource.CLOSED && feed.peek().is === 'lost') connect();
  }, againAfter);
  followVisibility();
}

function followVisibility(): void {
  if (document.visibilityState !== 'hidden') {
    connect();
    return;
  }
  source?.close();
  source = null;
  feed.value = { is: 'paused' };
}

function connect(): void {
  source?.close();
  const own = new EventSource('api/live');
  source = own;
  if (feed.peek().is === 'paused') feed.value = { is: 'connecting' };
  own.addEventListener('open', () => {
    feed.value = { is: 'open' };
    opened.value += 1;
    void readCarriages();
  });
  own.addEventListener('error', () => {
    if (source !== own) return;
    if (feed.peek().is !== 'lost') feed.value = { is: 'lost', since: Date.now() };
    askHealthNow();
  });
  own.addEventListener('carriage', (event: MessageEvent<string>) => {
    const carriage = JSON.parse(event.data) as Carriage;
    hearSentAfter(carriage.lastSeen);
    takeCarriage(carriage);
  });
  own.addEventListener('run', (event: MessageEvent<string>) => {
    const run = JSON.parse(event.data) as Run;
    for (const listener of runListeners) listener(run);
  });
}

/** The feed says nothing of carriages that are no longer there, nor that there is none. */
async function readCarriages(): Promise<void> {
  const answer = await fetchCarriages();
  if (!answer.ok) return;
  for (const carriage of answer.value) {
    hearSentAfter(carriage.lastSeen);
    takeCarriage(carriage);
  }
  dropOthers(answer.value);
  carriagesKnown.value = true;
}
