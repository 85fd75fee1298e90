import { batch, signal, type Signal } from '@preact/signals';
import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';

type Named = Pick<Carriage, 'site' | 'carriage'>;

/** Keys of all carriages in the order in which people count: c2 before c10. */
export const carriageKeys = signal<readonly string[]>([]);

const carriages = new Map<string, Signal<Carriage>>();
const collator = new Intl.Collator('en', { numeric: true });

/** The state of one carriage; a change draws only what shows that carriage. */
export function carriageAt(key: string): Signal<Carriage> | undefined {
  return carriages.get(key);
}

/** The same for a carriage that may become known later: it also reads which carriages there are. */
export function carriageNow(key: string): Carriage | undefined {
  return carriageKeys.value.includes(key) ? carriageAt(key)?.value : undefined;
}

/** Takes a state, unless a newer one is there already. */
export function storeCarriage(carriage: Carriage): void {
  const key = keyOf(carriage);
  const held = carriages.get(key);
  if (held === undefined) {
    carriages.set(key, signal(carriage));
    carriageKeys.value = [...carriages.keys()].sort((a, b) => collator.compare(a, b));
  } else if ((carriage.lastSeen ?? '') >= (held.peek().lastSeen ?? '')) held.value = carriage;
}

const waiting = new Map<string, Carriage>();
let flushing: ReturnType<typeof setTimeout> | null = null;
/** Many carriages send several times a second each; messages within this time are drawn together, ms. */
const drawnEvery = 100;

/** Stores a state together with others that arrive within a moment; the newest of each carriage counts. */
export function storeCarriageSoon(carriage: Carriage): void {
  waiting.set(keyOf(carriage), carriage);
  flushing ??= setTimeout(storeWaiting, drawnEvery);
}

/** Stores the waiting states, so that they cannot overwrite what comes now. */
export function storeWaiting(): void {
  if (flushing !== null) clearTimeout(flushing);
  flushing = null;
  const taken = [...waiting.values()];
  waiting.clear();
  batch(() => { taken.forEach(storeCarriage); });
}

/** Puts an alarm in its place among those of its carriage; one that is over and acknowledged leaves them. */
export function storeCarriageAlarm(alarm: Alarm): void {
  if (alarm.site === null || alarm.carriage === null) return;
  const held = carriages.get(keyOf({ site: alarm.site, carriage: alarm.carriage }));
  if (held === undefined) return;
  const before = held.peek().alarms;
  const at = before.findIndex(({ id }) => id === alarm.id);
  const others = before.filter(({ id }) => id !== alarm.id);
  if (alarm.state === 'normal') {
    if (at >= 0) held.value = { ...held.peek(), alarms: others };
    return;
  }
  held.value = { ...held.peek(), alarms: at < 0 ? [...others, alarm] : before.with(at, alarm) };
}

/** Forgets a carriage that has left the floor; it comes back with its next message. */
export function forgetCarriage(gone: Named): void {
  const key = keyOf(gone);
  waiting.delete(key);
  if (!carriages.delete(key)) return;
  carriageKeys.value = carriageKeys.peek().filter((own) => own !== key);
}

/** Forgets every carriage but those. */
export function dropOthers(kept: readonly Named[]): void {
  const keys = new Set(kept.map(keyOf));
  const gone = carriageKeys.peek().filter((key) => !keys.has(key));
  if (gone.length === 0) return;
  for (const key of gone) carriages.delete(key);
  carriageKeys.value = carriageKeys.peek().filter((key) => keys.has(key));
}

function keyOf({ site, carriage }: Named): string {
  return `${site}/${carriage}`;
}
