import { batch, effect, signal } from '@preact/signals';
import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Run } from '../../shared/api-types/run.js';
import { fetchCarriages } from './api.js';
import { carriageAt, dropOthers, forgetCarriage, storeCarriage, storeCarriageAlarm, storeCarriageSoon, storeWaiting } from './carriages-now.js';
import { askHealthNow, health } from './health.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { hearSentAfter } from './now.js';
import { readServiceAlarms, storeServiceAlarm } from './service-alarms.js';
import { readServiceFacts } from './service-facts.js';

export type FeedState = { readonly is: 'connecting' | 'open' | 'paused' } | { readonly is: 'lost'; readonly since: number };

export const feed = signal<FeedState>({ is: 'connecting' });

/** Grows each time the feed opens: what was read before may be old by then. */
export const opened = signal(0);

/** Whether the list of carriages has been answered since the feed was opened first. */
export const carriagesKnown = signal(false);

const runListeners = new Set<(run: Run) => void>();
const alarmListeners = new Set<(alarm: Alarm) => void>();
const againAfter = 2_000;
/** If a list of carriages is this much ahead of the feed, the feed is dead, whatever its connection reports, ms. */
const deadAfter = 5_000;
const compareEvery = 20_000;
/** A timer of `againAfter` that fires this late shows that the machine slept, ms. */
const sleptFor = 15_000;
let source: EventSource | null = null;

/** Calls the listener with runs as they change; returns a function that stops this. */
export function onRun(listener: (run: Run) => void): () => void {
  runListeners.add(listener);
  return () => runListeners.delete(listener);
}

/** Calls the listener with alarms as they change; returns a function that stops this. */
export function onAlarm(listener: (alarm: Alarm) => void): () => void {
  alarmListeners.add(listener);
  return () => alarmListeners.delete(listener);
}

/** An alarm as the service just gave it, by the feed or as an answer. */
export function storeAlarm(alarm: Alarm): void {
  storeWaiting();
  if (alarm.site === null) storeServiceAlarm(alarm);
  else storeCarriageAlarm(alarm);
  for (const listener of alarmListeners) listener(alarm);
}

/** Keeps one feed open while the page is seen: browsers allow few connections to one server over all their tabs. */
export function startLiveFeed(): void {
  document.addEventListener('visibilitychange', followVisibility);
  effect(() => {
    const { is } = health.value;
    // A connection whose far end vanished stays open for minutes as browsers see it.
    if (is === 'unreachable' && feed.peek().is === 'open') leave({ is: 'lost', since: Date.now() });
    if (is === 'good' && feed.peek().is === 'lost') connect();
  });
  let turn = Date.now();
  setInterval(() => {
    const slept = Date.now() - turn > sleptFor;
    turn = Date.now();
    if (slept && feed.peek().is !== 'paused') connect();
    // A browser gives up for good where it was refused.
    else if (feed.peek().is === 'lost' && (source === null || source.readyState === EventSource.CLOSED)) connect();
  }, againAfter);
  setInterval(() => { if (feed.peek().is === 'open') void compareCarriages(); }, compareEvery);
  followVisibility();
}

function followVisibility(): void {
  if (document.visibilityState !== 'hidden') {
    connect();
    return;
  }
  leave({ is: 'paused' });
}

function leave(state: FeedState): void {
  source?.close();
  source = null;
  feed.value = state;
}

function connect(): void {
  source?.close();
  const own = new EventSource('api/live');
  source = own;
  if (feed.peek().is === 'paused') feed.value = { is: 'connecting' };
  own.addEventListener('open', () => {
    feed.value = { is: 'open' };
    opened.value += 1;
    // The health from before the feed opened is out of date: the two must not contradict each other.
    askHealthNow();
    void readCarriages();
    void readServiceAlarms();
    void readServiceFacts();
  });
  own.addEventListener('error', () => {
    if (source !== own) return;
    if (feed.peek().is !== 'lost') feed.value = { is: 'lost', since: Date.now() };
    askHealthNow();
  });
  own.addEventListener('carriage', (event: MessageEvent<string>) => {
    const carriage = JSON.parse(event.data) as Carriage;
    hearSentAfter(carriage.lastSeen);
    storeCarriageSoon(carriage);
  });
  own.addEventListener('run', (event: MessageEvent<string>) => {
    const run = JSON.parse(event.data) as Run;
    for (const listener of runListeners) listener(run);
  });
  own.addEventListener('carriageGone', (event: MessageEvent<string>) => {
    forgetCarriage(JSON.parse(event.data) as Pick<Carriage, 'site' | 'carriage'>);
  });
  own.addEventListener('alarm', (event: MessageEvent<string>) => { storeAlarm(JSON.parse(event.data) as Alarm); });
}

/** The feed does not report that a carriage is gone, or that there is none. */
async function readCarriages(): Promise<void> {
  const answer = await fetchCarriages();
  if (answer.ok) storeCarriages(answer.value);
}

/** Reads the carriages from time to time, so that nothing that was missed stays wrong, and a feed that died unnoticed is opened again. */
async function compareCarriages(): Promise<void> {
  const reading = source;
  const answer = await fetchCarriages();
  if (!answer.ok) return;
  storeWaiting();
  const dead = answer.value.some(isFarAhead);
  storeCarriages(answer.value);
  if (dead && source === reading && feed.peek().is === 'open') connect();
}

function storeCarriages(carriages: readonly Carriage[]): void {
  storeWaiting();
  batch(() => {
    for (const carriage of carriages) {
      hearSentAfter(carriage.lastSeen);
      storeCarriage(carriage);
    }
    dropOthers(carriages);
  });
  carriagesKnown.value = true;
}

function isFarAhead({ site, carriage, lastSeen }: Carriage): boolean {
  const held = carriageAt(`${site}/${carriage}`)?.peek().lastSeen ?? null;
  return lastSeen !== null && held !== null && Date.parse(lastSeen) - Date.parse(held) > deadAfter;
}
