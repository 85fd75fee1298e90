import type { DecodedMessage } from '../../shared/weld/decode/decoded.js';
import type { Item } from '../../shared/weld/item.js';
import { isAfter } from '../../shared/weld/assignment-timeline.js';
import type { OrderedItem, Position } from '../../shared/weld/order.js';
import { bootName, comparePositions, hasSequence, orderItem } from '../../shared/weld/order.js';
import { addSeq, emptySeqSet, hasSeq } from '../../shared/weld/seq-marks.js';
import type { Statements } from './statements.js';
import { bootOf, noteSeq } from './stream-load.js';
import type { BootState, RunEntry, StreamState } from './stream-state.js';

/** Positions within one kept message: its arrival number is the kept id times this, plus the position. */
export const arrivalsPerMessage = 1024;

/** How many times of items without sequence are remembered, per arc. */
const trimTimesEvery = 5_000;

export interface TakenCounts {
  stored: number;
  duplicate: number;
  refused: number;
  conflict: number;
}

export interface MessageOrigin {
  readonly topic: string;
  readonly kind: 'readings' | 'senml';
  readonly payload: Uint8Array;
  /** µs since 1970. */
  readonly arrived: number;
}

export interface TakeOptions {
  readonly statements: Statements;
  /** µs of arrival time after a run's end in which late items still revise it. */
  readonly lateFor: number;
}

/** Stores what a message holds: each item once, as it came, and each refusal with its reason. */
export function takeMessage(stream: StreamState, origin: MessageOrigin, decoded: DecodedMessage, options: TakeOptions): TakenCounts {
  const { statements } = options;
  const counts = { stored: 0, duplicate: 0, refused: 0, conflict: 0 };
  const taken: { position: number; item: Item; rank: number }[] = [];
  decoded.items.forEach((entry, position) => {
    if (entry.kind === 'refused') {
      counts.refused += 1;
      statements.refuse.run(origin.arrived, origin.topic, entry.reason, origin.payload.length, Buffer.from(entry.head));
      if (entry.boot !== null && entry.seq !== null) noteSeq(stream, bootOf(stream, entry.boot, statements), entry.seq);
      return;
    }
    const { item } = entry;
    const boot = bootOf(stream, bootName(item), statements);
    if (isDuplicate(stream, boot, item, statements)) {
      counts.duplicate += 1;
      if (differs(stream, orderItem({ ...item, arrived: 0, arrival: 0 }, boot.rank))) counts.conflict += 1;
      return;
    }
    remember(stream, boot, item, statements);
    counts.stored += 1;
    taken.push({ position, item, rank: boot.rank });
  });
  if (taken.length === 0) return counts;
  const all = taken.length === decoded.items.length;
  const late: { item: OrderedItem; run: RunEntry }[] = [];
  const fresh: { position: number; item: OrderedItem }[] = [];
  for (const own of taken) {
    const item = orderItem({ ...own.item, arrived: origin.arrived, arrival: own.position }, own.rank);
    const run = lockedRunOf(stream, item, origin.arrived, options.lateFor);
    if (run === null) fresh.push({ position: own.position, item });
    else late.push({ item, run });
  }
  for (const { item, run } of late) {
    statements.addLate.run(run.id, origin.arrived, item.boot, item.seq, item.arc, item.time, JSON.stringify(item));
  }
  if (fresh.length === 0) return counts;
  const positions = all && late.length === 0 ? null : JSON.stringify(fresh.map((own) => own.position));
  const { lastInsertRowid } = statements.keep.run(stream.id, origin.arrived, origin.kind, origin.payload, positions);
  const base = Number(lastInsertRowid) * arrivalsPerMessage;
  for (const own of fresh) enter(stream, { ...own.item, arrival: base + own.position });
  return counts;
}

/** Takes note of a stored item and hands it to the fold. */
export function enter(stream: StreamState, item: OrderedItem): void {
  noteNewest(stream, item);
  if (item !== stream.newest) markRevision(stream, item);
  if (stream.lastSeen === null || item.arrived > stream.lastSeen) stream.lastSeen = item.arrived;
  if (item.time !== null && item === stream.newest) stream.clockOffset = (item.arrived - item.time) / 1e6;
  stream.fresh.push(item);
}

/** The newest item in order, of the carriage and of each arc. */
export function noteNewest(stream: StreamState, item: OrderedItem): void {
  if (stream.newest === null || comparePositions(item, stream.newest) > 0) stream.newest = item;
  const ofArc = stream.newestOfArc.get(item.arc);
  if (ofArc === undefined || comparePositions(item, ofArc) > 0) stream.newestOfArc.set(item.arc, item);
}

function isDuplicate(stream: StreamState, boot: BootState, item: Item, statements: Statements): boolean {
  if (hasSequence(item) && item.seq !== null) {
    const set = boot.marks.arcs[item.arc];
    return set !== undefined && hasSeq(set, item.seq);
  }
  if (item.time === null) return false;
  const newest = stream.newestTimes.get(item.arc);
  if (newest !== undefined && item.time > newest) return false;
  return statements.hasTime.get(stream.id, item.arc, item.time) !== undefined;
}

function remember(stream: StreamState, boot: BootState, item: Item, statements: Statements): void {
  if (hasSequence(item) && item.seq !== null) {
    addSeq((boot.marks.arcs[item.arc] ??= emptySeqSet()), item.seq);
    noteSeq(stream, boot, item.seq);
    return;
  }
  if (item.time === null) return;
  statements.addTime.run(stream.id, item.arc, item.time);
  stream.newestTimes.set(item.arc, Math.max(stream.newestTimes.get(item.arc) ?? item.time, item.time));
  stream.timeLines += 1;
  if (stream.timeLines % trimTimesEvery === 0) statements.trimTimes.run(stream.id, item.arc, stream.id, item.arc);
}

/** Whether an item with the same identity, among those still at hand, said something else. */
function differs(stream: StreamState, item: OrderedItem): boolean {
  const same = (own: OrderedItem): boolean => own.rank === item.rank && own.key === item.key && own.arc === item.arc;
  let found = stream.fresh.find(same);
  for (const stretch of stream.live.stretches) found ??= stretch.items.find(same);
  return found !== undefined && contentOf(found) !== contentOf(item);
}

function contentOf(item: OrderedItem): string {
  return JSON.stringify([item.time, item.interval, item.current, item.voltage, item.travelSpeed, item.wireFeedSpeed, item.travel, item.plateTemperature]);
}

/** The run that an item belongs to, where it came too late to change it. */
function lockedRunOf(stream: StreamState, item: Position, arrived: number, lateFor: number): RunEntry | null {
  for (const run of stream.runs.values()) {
    if (run.finished !== null && arrived - run.finished > lateFor && belongsTo(run, item)) return run;
  }
  return null;
}

function markRevision(stream: StreamState, item: Position): void {
  for (const run of stream.runs.values()) {
    if (run.finished !== null && belongsTo(run, item)) run.revise = true;
  }
}

export function belongsTo(run: RunEntry, place: Position): boolean {
  if (run.first === null || run.to === null) return false;
  return !isAfter(run.first, place) && !isAfter(place, run.to);
}
