import type { AlarmFacts } from '../../../shared/weld/judging/alarm-life.js';

/** An alarm as it was last stored; the alarms stored first have the lowest `order`. */
export interface StoredAlarm {
  readonly order: number;
  readonly state: string;
  readonly facts: AlarmFacts;
}

/** How many of the newest alarms that are over, shelved or suppressed are read: those shown with a carriage, and as many again to replace them. */
export const newestRead = 40;
const newestNeeded = 20;
const newestHeld = 200;

/** Orders given here come after all row numbers of a store. */
const firstOrder = 2 ** 52;

/** What memory knows of the stored alarms of a stream, besides those that it follows. */
export interface StoredAlarms {
  /** The alarms that are followed, and the newest ones. */
  readonly known: Map<string, StoredAlarm>;
  /** Ids of the alarms that are over, shelved or suppressed and not back to normal, the newest last; whether the store has older ones. */
  newest: string[];
  hasOlder: boolean;
  /** By run that may continue, its alarms that are not followed at present. */
  readonly ofRuns: Map<string, AlarmFacts[]>;
  nextOrder: number;
}

export function startStoredAlarms(): StoredAlarms {
  return { known: new Map(), newest: [], hasOlder: false, ofRuns: new Map(), nextOrder: firstOrder };
}

/** Whether the newest alarms have to be read again because many of them are back to normal. */
export function lacksNewest({ newest, hasOlder }: StoredAlarms): boolean {
  return hasOlder && newest.length < newestNeeded;
}

const isShown = (state: string): boolean => state === 'returned' || state === 'shelved' || state === 'suppressed';

/** Notes an alarm as it is stored; `order` is its row number if it was read. Returns its earlier state, as far as that is known. */
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
    // There may be others between it and the ones known here.
    if (at > 0 || !stored.hasOlder) stored.newest.splice(at, 0, facts.id);
  }
  return before?.state;
}

/** Drops alarms that are not followed, not of a run that may continue, and not among the newest. */
export function forgetStored(stored: StoredAlarms, followed: readonly AlarmFacts[]): void {
  if (stored.newest.length > newestHeld) {
    stored.newest = stored.newest.slice(-newestRead);
    stored.hasOlder = true;
  }
  const kept = new Set([...stored.newest, ...[...followed, ...[...stored.ofRuns.values()].flat()].map(({ id }) => id)]);
  for (const id of stored.known.keys()) if (!kept.has(id)) stored.known.delete(id);
}
