import type { ChangeSet } from '../../../shared/records/change-set.js';
import type { DecodedItem, DecodedMessage } from '../../../shared/weld/decode/decoded.js';
import type { Item } from '../../../shared/weld/items/item.js';
import { bootName, orderItem, type OrderedItem, type Position } from '../../../shared/weld/items/order.js';
import { tallyItem } from '../../../shared/weld/items/item-tally.js';
import { sentNames } from '../../../shared/weld/quantities.js';
import { addSeq, emptySeqSet, isGivenUp } from '../../../shared/weld/items/seq-marks.js';
import { dropWhatLacks } from '../fold/checkpoints.js';
import type { FoldDeps } from '../fold/fold-deps.js';
import { arrivalsPerMessage, logMessage } from '../fold/message-log.js';
import { belongsTo, decidedRunOf, type ListedWith } from '../fold/decided-run.js';
import type { Carriage } from '../fold/carriage.js';
import { noteMark } from '../fold/outbox.js';
import type { CarriageFold } from '../fold/fold-state.js';
import type { RunBook } from '../fold/run-book.js';
import { bootOf, noteItem, type BootState } from '../fold/intake.js';

/** How many times of items without sequence are remembered per arc, and after how many new ones older ones are dropped. */
const timesKept = 100_000;
const trimTimesEvery = 5_000;
/** How many of its first bytes are kept with the refusal of a message. */
const refusedHead = 256;

export interface TakenCounts {
  stored: number;
  duplicate: number;
  refused: number;
  conflict: number;
}

interface MessageOrigin {
  readonly topic: string;
  readonly kind: 'readings' | 'senml';
  readonly payload: Uint8Array;
  /** µs since 1970. */
  readonly arrived: number;
}

/**
 * Stores the items of a message, each once and as it came, and its refusals. `listed`: the runs with which items from before the floor are listed.
 */
export function storeReadings(carriage: Carriage, origin: MessageOrigin, decoded: DecodedMessage, listed: ReadonlyMap<Item, ListedWith>, options: Pick<FoldDeps, 'changes' | 'numbers' | 'lateFor'>): TakenCounts {
  const { changes, numbers } = options;
  const { arrived } = origin;
  const { items } = decoded;
  const counts = { stored: 0, duplicate: 0, refused: 0, conflict: 0 };
  const number = numbers.message + 1;
  const base = number * arrivalsPerMessage;
  let fresh: OrderedItem[] | null = null;
  for (let position = 0; position < items.length; position += 1) {
    const entry = items[position];
    if (entry === undefined) continue;
    if (entry.kind === 'refused') {
      counts.refused += 1;
      refuseItem(carriage, origin, entry, changes);
      continue;
    }
    const { item } = entry;
    const boot = bootOf(carriage.intake, bootName(item));
    if (isForgotten(boot, item)) {
      counts.refused += 1;
      keepRefusal(origin, forgottenReason(boot, item), changes);
      continue;
    }
    if (!remember(carriage, boot, item, changes)) {
      counts.duplicate += 1;
      if (differs(carriage.fold, boot, item)) counts.conflict += 1;
      continue;
    }
    const own = orderItem(item, boot.rank, arrived, base + position);
    const decided = withoutFault(carriage.fold, () => decidedRunOf(carriage, own, listed.get(item), options));
    // An item that is not among the kept messages is known only by the marks.
    if (decided !== null) boot.ahead = 'byMore';
    else if (boot.ahead === 'no') boot.ahead = 'byKept';
    if (decided === 'none') {
      counts.refused += 1;
      keepRefusal(origin, beforeAllReason(item), changes);
      continue;
    }
    counts.stored += 1;
    if (boot.taken !== null) tallyItem(boot.taken, own);
    if (decided !== null) {
      changes.late.push({ run: decided.id, received: arrived, boot: item.boot, seq: item.seq, arc: item.arc, time: item.time, item: JSON.stringify({ ...own, arrival: position }) });
    } else if (fresh === null) fresh = [own];
    else fresh.push(own);
  }
  if (fresh === null) return counts;
  numbers.message = number;
  const lacked = fresh;
  withoutFault(carriage.fold, () => {
    dropWhatLacks(carriage.fold, lacked, options);
    return null;
  });
  const taken = fresh.length === items.length ? null : fresh.map((own) => own.arrival - base);
  logMessage(carriage, { number, arrived, kind: origin.kind, payload: origin.payload, taken }, changes);
  for (const own of fresh) enter(carriage, own);
  return counts;
}

/** Does what follows from keeping an item. If the stored data of the stream cannot be read, which was reported, only the item is kept. */
function withoutFault<Result>({ fault }: CarriageFold, work: () => Result): Result | null {
  if (fault === null) return work();
  try {
    return work();
  } catch {
    return null;
  }
}

/** Queues the refusal of a whole message, with its beginning, to be stored. */
export function keepRefusal({ arrived, topic, payload }: Omit<MessageOrigin, 'kind'>, reason: string, changes: ChangeSet): void {
  changes.refused.push({ received: arrived, topic, reason, size: payload.length, head: new Uint8Array(payload.subarray(0, refusedHead)) });
}

function refuseItem(carriage: Carriage, { arrived, topic, payload }: MessageOrigin, { reason, head, boot, seq }: DecodedItem & { kind: 'refused' }, changes: ChangeSet): void {
  changes.refused.push({ received: arrived, topic, reason, size: payload.length, head: Buffer.from(head) });
  if (boot === null || seq === null) return;
  const own = bootOf(carriage.intake, boot);
  addSeq(own.marks.any, seq);
  noteMark(carriage.outbox);
  own.ahead = 'byMore';
}

/** Notes a stored item and passes it to the fold. */
function enter({ intake, fold, runs }: Carriage, item: OrderedItem): void {
  if (!noteItem(intake, item)) markRevision(runs, item);
  fold.fresh.push(item);
}

/** Whether the number of an item lies among those that were given up: it may have been stored, and must not be counted twice. */
function isForgotten(boot: BootState, { boot: name, seq, arc }: Item): boolean {
  const set = name === null || seq === null ? undefined : boot.marks.arcs[arc];
  return set !== undefined && seq !== null && isGivenUp(set, seq);
}

function forgottenReason(boot: BootState, { seq, arc }: Item): string {
  const from = (boot.marks.arcs[arc]?.below ?? -1) + 1;
  return `seq: got ${String(seq)}; expected at least ${from}: this boot skips so many numbers that nobody knows whether those below were stored; seq counts messages, one more for each`;
}

function beforeAllReason({ seq, time }: Item): string {
  const told = seq !== null ? `seq: got ${seq}` : `time: got ${time === null ? 'none' : new Date(time / 1000).toISOString()}`;
  return `${told}; it belongs before everything that is kept of the carriage, which had no run by then: it can neither be computed nor be listed with a run`;
}

/** Notes an item's identity; false if it was there before. An item without identity always counts as new. */
function remember({ id, intake, outbox }: Carriage, boot: BootState, item: Item, changes: ChangeSet): boolean {
  if (item.boot !== null && item.seq !== null) {
    if (!addSeq((boot.marks.arcs[item.arc] ??= emptySeqSet()), item.seq)) return false;
    addSeq(boot.marks.any, item.seq);
    noteMark(outbox);
    return true;
  }
  const { arc, time } = item;
  if (time === null) return true;
  const known = `${arc} ${time}`;
  if (intake.knownTimes.has(known)) return false;
  intake.knownTimes.add(known);
  changes.times.push({ stream: id, arc, time });
  intake.newestTimes.set(arc, Math.max(intake.newestTimes.get(arc) ?? time, time));
  intake.timeLines += 1;
  if (intake.timeLines % trimTimesEvery === 0) changes.drops.push({ times: id, arc, keep: timesKept });
  return true;
}

/** Whether an item with the same identity, among those still in memory, has other contents. */
function differs({ fresh, live }: CarriageFold, { rank }: BootState, item: Item): boolean {
  const key = item.boot !== null && item.seq !== null ? item.seq : item.time;
  const same = (own: OrderedItem): boolean => own.key === key && own.rank === rank && own.arc === item.arc;
  let found = fresh.find(same);
  for (const stretch of live.stretches) found ??= stretch.items.find(same);
  return found !== undefined && contentOf(found) !== contentOf(item);
}

function contentOf(item: Item): string {
  return JSON.stringify([item.time, item.interval, ...sentNames.map((name) => item[name])]);
}

function markRevision({ entries }: RunBook, item: Position): void {
  for (const run of entries.values()) {
    if (run.finished !== null && belongsTo(run, item)) run.revise = true;
  }
}
