import { signal } from '@preact/signals';
import type { Signal } from '@preact/signals';
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

/** Takes a state, unless a newer one is there already. */
export function takeCarriage(carriage: Carriage): void {
  const key = keyOf(carriage);
  const held = carriages.get(key);
  if (held === undefined) {
    carriages.set(key, signal(carriage));
    carriageKeys.value = [...carriages.keys()].sort((a, b) => collator.compare(a, b));
  } else if ((carriage.lastSeen ?? '') >= (held.peek().lastSeen ?? '')) held.value = carriage;
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
