import { signal } from '@preact/signals';
import { readStored, writeStored } from '../shared/browser-storage.js';

/** People at this tablet: names that have been used on it, and the one that was chosen last, with the time. */
interface Kept { readonly names: readonly string[]; readonly here: string | null; readonly at: number }

const place = 'seamwarden.people';
/** A chosen name lasts for one shift at most, so that the next person does not sign with it, ms; common practice, no source. */
const shift = 10 * 3600_000;
const mostNames = 12;
const longestName = 60;

const kept = signal<Kept>(read());

/** Names to choose from, those used last first. */
export function knownPeople(): readonly string[] {
  return kept.value.names;
}

/** The person who has signed in, or null; `at` is in ms. */
export function personHere(at: number): string | null {
  const { here, at: since } = kept.value;
  return here !== null && at - since < shift ? here : null;
}

/** The name with which actions at a carriage are signed: the person who is here, or else the station itself. The operator named by a job has not said that they are here. */
export function signerAt(carriage: string, at: number): string {
  return personHere(at) ?? `station ${carriage}`;
}

export function choosePerson(name: string | null, at: number): void {
  const clean = name?.trim().slice(0, longestName) ?? '';
  const names = clean === '' ? kept.peek().names : [clean, ...kept.peek().names.filter((own) => own !== clean)].slice(0, mostNames);
  kept.value = { names, here: clean === '' ? null : clean, at };
  writeStored(place, JSON.stringify(kept.peek()));
}

function read(): Kept {
  const none: Kept = { names: [], here: null, at: 0 };
  try {
    const found: unknown = JSON.parse(readStored(place) ?? 'null');
    if (typeof found !== 'object' || found === null || !('names' in found) || !Array.isArray(found.names)) return none;
    const { here, at } = found as Partial<Kept>;
    return { names: found.names.filter((own): own is string => typeof own === 'string'), here: typeof here === 'string' ? here : null, at: typeof at === 'number' ? at : 0 };
  } catch {
    return none;
  }
}
