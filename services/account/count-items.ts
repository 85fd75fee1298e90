import { addTallies, emptyTally, sameTally, tallyLess, tallyOf, type ItemTally } from '../../shared/weld/items/item-tally.js';
import { comparePositions, type Position } from '../../shared/weld/items/order.js';
import { ranges } from '../../shared/weld/items/seq-marks.js';
import { arrivalsPerMessage } from '../ingest/fold/message-log.js';
import type { StoredCarriage } from './stored-carriage.js';

export interface ItemCount {
  /** Items that counted, and of them those on the lists of late items. */
  readonly stored: number;
  readonly late: number;
  /** The discrepancies, a line each. */
  readonly problems: readonly string[];
}

/**
 * Whether every item that counted is in the fold or on a list of late items: from each stored checkpoint, or if there is
 * none from the start, the items that its state holds and the kept ones behind it are together all that counted less the late ones.
 * Null if the store was written by an earlier version that kept no account, and its carriage has not been read since.
 */
export function countItems(carriage: StoredCarriage): ItemCount | null {
  const { boots, kept, late, checkpoints } = carriage;
  let taken = emptyTally();
  for (const boot of boots) {
    if (boot.taken === null) return null;
    taken = addTallies(taken, boot.taken);
  }
  const due = tallyLess(taken, tallyOf(late));
  const problems = boots.flatMap((boot) => marksProblem(boot));
  for (const { place, keptFrom } of checkpoints) {
    const behind = kept.filter((item) => comparePositions(item, place) > 0 && item.arrival >= keptFrom * arrivalsPerMessage);
    problems.push(...difference(due, addTallies(place.held, tallyOf(behind)), `the checkpoint at ${placeName(carriage, place)} and the ${behind.length} items kept behind it`));
  }
  if (checkpoints.length === 0) problems.push(...difference(due, tallyOf(kept), 'the kept items'));
  return { stored: taken.items, late: late.length, problems };
}

function difference(due: ItemTally, found: ItemTally, what: string): string[] {
  if (sameTally(due, found)) return [];
  const missing = due.items - found.items;
  const told = missing > 0 ? `${missing} are missing` : missing < 0 ? `${-missing} are there twice` : 'they are others';
  return [`${due.items} items have to be in the figures, ${what} are ${found.items}: ${told}`];
}

/** The marks that reveal duplicates and the account of what counted are written together. */
function marksProblem({ boot, arcs, taken }: StoredCarriage['boots'][number]): string[] {
  if (boot === '' || taken === null) return [];
  let marked = 0;
  for (const set of Object.values(arcs)) {
    // Once the lowest numbers have been given up, the marks no longer include them all.
    if (set.below !== undefined) return [];
    for (const [from, to] of ranges(set)) marked += to - from + 1;
  }
  return marked < taken.items ? [`boot ${boot}: ${taken.items} items counted, the marks know of ${marked}`] : [];
}

function placeName({ boots }: StoredCarriage, { rank, key }: Position): string {
  const boot = boots.find((own) => own.rank === rank)?.boot ?? `${rank}`;
  return boot === '' ? new Date(key / 1000).toISOString() : `boot ${boot} seq ${key}`;
}
