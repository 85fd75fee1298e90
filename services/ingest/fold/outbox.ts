import type { Position } from '../../../shared/weld/items/order.js';

/** How often live figures are told, records written and the `stored` mark published while a carriage sends, µs. */
const tellEvery = 200_000;
const flushEvery = 1_000_000;
const storedEvery = 1_000_000;

/** What has to be told or written of a carriage and by when, in µs of the steady clock: `Infinity` where there is nothing new. */
export interface Outbox {
  /** When records are written and figures told the next time, and when they were last. */
  flushAt: number;
  flushedAt: number;
  tellAt: number;
  toldAt: number;
  /** When anything is due if nothing comes; the queue of what is due is in its order. */
  dueAt: number;
  /** The state of the carriage as it was told last. */
  snapshot: string | null;
  /** Place of the first checkpoint that was written since the records were: the records of its runs go into the same transaction, or it goes. */
  unrecorded: Position | null;
  /** The records or a checkpoint are written in the commit at hand: the marks of its boots go with them. */
  marksDue: boolean;
  /** The `stored` mark has changed since it was published last, and when that was. */
  markChanged: boolean;
  markedAt: number;
  /** The alarms have changed since they were published last; true at the start. */
  alarmsChanged: boolean;
  /** Whether the carriage need not be read at a start, as its row says; null where it has none yet. */
  settled: boolean | null;
}

export function startOutbox({ settled, snapshot }: Pick<Outbox, 'settled' | 'snapshot'>): Outbox {
  return {
    flushAt: Infinity, flushedAt: 0, tellAt: Infinity, toldAt: 0, dueAt: Infinity, snapshot, unrecorded: null, marksDue: false,
    markChanged: false, markedAt: 0, alarmsChanged: true, settled,
  };
}

/** Something is to be told and written: in its time, or at once where somebody waits for it. */
export function noteNews(outbox: Outbox): void {
  outbox.flushAt = Math.min(outbox.flushAt, outbox.flushedAt + flushEvery);
  outbox.tellAt = Math.min(outbox.tellAt, outbox.toldAt + tellEvery);
}

export function noteNewsAtOnce(outbox: Outbox): void {
  outbox.flushAt = outbox.tellAt = 0;
}

/** Whoever looks at the carriage wants to see an alarm at once. */
export function noteAlarms(outbox: Outbox): void {
  outbox.alarmsChanged = true;
  noteNews(outbox);
  outbox.tellAt = 0;
}

/** Something new is kept, for the `stored` mark. */
export function noteMark(outbox: Outbox): void {
  outbox.markChanged = true;
}

/** A checkpoint is written in the commit at hand: the runs that it holds are recorded with it, and what is kept before it may be let go of one day. */
export function noteCheckpoint(outbox: Outbox, place: Position): void {
  outbox.unrecorded ??= place;
  outbox.marksDue = true;
}

/** What waited to be recorded is folded again. */
export function forgetUnrecorded(outbox: Outbox): void {
  outbox.unrecorded = null;
}

/** Its state was told; null where there is nobody to tell it of. */
export function noteTold(outbox: Outbox, snapshot: string | null, now: number): void {
  outbox.snapshot = snapshot;
  outbox.toldAt = now;
  outbox.tellAt = now + tellEvery;
}

export function noteFlushed(outbox: Outbox, now: number): void {
  outbox.marksDue = true;
  outbox.unrecorded = null;
  outbox.flushedAt = now;
  outbox.flushAt = outbox.tellAt = Infinity;
}

export function noteSettled(outbox: Outbox, settled: boolean): void {
  outbox.settled = settled;
}

/** For the queue of what is due alone, which goes by it. */
export function setDueAt(outbox: Outbox, dueAt: number): void {
  outbox.dueAt = dueAt;
}

/** When the mark may be published, `Infinity` where it says nothing new. */
export function markDueAt({ markChanged, markedAt }: Outbox): number {
  return markChanged ? markedAt + storedEvery : Infinity;
}

export function noteMarked(outbox: Outbox, now: number): void {
  outbox.markChanged = false;
  outbox.markedAt = now;
}

export function noteAlarmsPublished(outbox: Outbox): void {
  outbox.alarmsChanged = false;
}

/** Whether the marks of the boots go into the commit at hand; asked once in each. */
export function takeMarksDue(outbox: Outbox): boolean {
  const { marksDue } = outbox;
  outbox.marksDue = false;
  return marksDue;
}
