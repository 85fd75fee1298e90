import type { AlarmFacts } from '../../../shared/weld/judging/alarm-life.js';

/** An alarm as it was stored last; those stored first have the least `order`. */
export interface StoredAlarm {
  readonly order: number;
  readonly state: string;
  readonly facts: AlarmFacts;
}

/** Alarms that are looked for among the newest ones that are over, shelved or suppressed: what is shown with a carriage, and as many again to take their place. */
export const newestRead = 40;
const newestNeeded = 20;
const newestHeld = 200;

/** Orders given here lie behind all numbers of a store. */
const firstOrder = 2 ** 52;

/** What memory knows of the alarms of a stream as they are stored, beside those that it follows. */
export interface StoredAlarms {
  /** Those that are followed, and the newest ones. */
  readonly known: Map<string, StoredAlarm>;
  /** Ids of those that are over, shelved or suppressed and not normal, the newest last; whether the store has older ones. */
  newest: string[];
  hasOlder: boolean;
  /** Of runs that may go on: alarms that are not followed at present. */
  readonly ofRuns: Map<string, AlarmFacts[]>;
  nextOrder: number;
}

export function startStoredAlarms(): StoredAlarms {
  return { known: new Map(), newest: [], hasOlder: false, ofRuns: new Map(), nextOrder: firstOrder };
}

/** Whether the newest ones have to be read again: many of them have become normal. */
export function lacksNewest({ newest, hasOlder }: StoredAlarms): boolean {
  return hasOlder && newest.length < newestNeeded;
}

const isShown = (state: string): boolean => state === 'returned' || state === 'shelved' || state === 'suppressed';

/** Takes note of an alarm as it is stored; `order` is the number of its row where it was read. Returns its state before, as far as that is known. */
export function noteStored(stored: StoredAlarms, facts: AlarmFacts, state: string, order?: number): string | undefined {
  const { known } = stored;
  const before = known.get(facts.id);
  const own: StoredAlarm = { order: before?.order ?? order ?? (stored.nextOrder += 1), state, facts };
  known.set(facts.id, own);
  if (before !== undefined && isShown(before.state)) {
    if (isShown(state)) return before.state;
    stored.newest = stored.newest.filter((id) => id !== facts.id);
  } else if (isShown(state)) {
    let at = stored.newest.length;
    while (at > 0 && (known.get(stored.newest[at - 1] ?? '')?.order ?? 0) > own.order) at -= 1;
    // Between it and these there may be others.
    if (at > 0 || !stored.hasOlder) stored.newest.splice(at, 0, facts.id);
  }
  return before?.state;
}

/** Lets go of what is neither followed, nor of a run that may go on, nor among the newest. */
export function forgetStored(stored: StoredAlarms, followed: readonly AlarmFacts[]): void {
  if (stored.newest.length > newestHeld) {
    stored.newest = stored.newest.slice(-newestRead);
    stored.hasOlder = true;
  }
  const kept = new Set([...stored.newest, ...[...followed, ...[...stored.ofRuns.values()].flat()].map(({ id }) => id)]);
  for (const id of stored.known.keys()) if (!kept.has(id)) stored.known.delete(id);
}
