import type { Position } from '../../../shared/weld/items/order.js';

/** How often live figures are published, records written and the `stored` mark published while a carriage sends, µs. */
const tellEvery = 200_000;
const flushEvery = 1_000_000;
const storedEvery = 1_000_000;

/** How long nothing has to be due before what is not written every time is written as well, µs. */
const restAfter = 2_000_000;

/** What has to be published or written for a carriage and by when, in µs of the steady clock: `Infinity` if there is nothing new. */
export interface Outbox {
  /** When records are next written and figures next published, and when they last were. */
  flushAt: number;
  flushedAt: number;
  tellAt: number;
  toldAt: number;
  /** When what the records left for later is written if nothing comes; `Infinity` if nothing was left. */
  restsAt: number;
  /** When what was published last changes though nothing comes, µs by the wall clock; `Infinity` if it does not. */
  changesAt: number;
  /** When anything is due if nothing comes; the due queue is sorted by it. */
  dueAt: number;
  /** The state of the carriage as it was last published. */
  snapshot: string | null;
  /** Place of the first checkpoint since the records were written. The records of its runs go into the same transaction, or it is dropped. */
  unrecorded: Position | null;
  /** The records or a checkpoint are written in the current commit: the marks of the boots go with them. */
  marksDue: boolean;
  /** Whether the `stored` mark has changed since it was last published, and when that was. */
  markChanged: boolean;
  markedAt: number;
  /** The alarms have changed since they were last published; true at the start. */
  alarmsChanged: boolean;
  /** The epoch whose assignment was last told, or need not be; null until anything comes after a start. */
  epochTold: number | null;
  /** Whether its row says that the carriage need not be read at a start; null if it has no row yet. */
  settled: boolean | null;
}

export function startOutbox({ settled, snapshot }: Pick<Outbox, 'settled' | 'snapshot'>): Outbox {
  return {
    flushAt: Infinity, flushedAt: 0, tellAt: Infinity, toldAt: 0, restsAt: Infinity, changesAt: Infinity, dueAt: Infinity, snapshot, unrecorded: null, marksDue: false,
    markChanged: false, markedAt: 0, alarmsChanged: true, epochTold: null, settled,
  };
}

/** Schedules the figures to be published and the records to be written when they are next due. */
export function noteNews(outbox: Outbox): void {
  outbox.flushAt = Math.min(outbox.flushAt, outbox.flushedAt + flushEvery);
  outbox.tellAt = Math.min(outbox.tellAt, outbox.toldAt + tellEvery);
}

export function noteNewsAtOnce(outbox: Outbox): void {
  outbox.flushAt = outbox.tellAt = 0;
}

/** Notes that the alarms have changed, and schedules the state to be published at once: an alarm must be seen without delay. */
export function noteAlarms(outbox: Outbox): void {
  outbox.alarmsChanged = true;
  noteNews(outbox);
  outbox.tellAt = 0;
}

/** Notes that something new is kept, for the `stored` mark. */
export function noteMark(outbox: Outbox): void {
  outbox.markChanged = true;
}

/** Notes that the current commit writes a checkpoint. The runs in it are recorded with it, since the items before it may be dropped one day. */
export function noteCheckpoint(outbox: Outbox, place: Position): void {
  outbox.unrecorded ??= place;
  outbox.marksDue = true;
}

/** Notes that what waited to be recorded is folded again. */
export function forgetUnrecorded(outbox: Outbox): void {
  outbox.unrecorded = null;
}

/** Notes that the state was published; null if there is nobody to publish it to. */
export function noteTold(outbox: Outbox, snapshot: string | null, now: number): void {
  outbox.snapshot = snapshot;
  outbox.toldAt = now;
  outbox.tellAt = now + tellEvery;
}

export function noteChange(outbox: Outbox, at: number): void {
  outbox.changesAt = at;
}

export function noteFlushed(outbox: Outbox, now: number, isMoreToWrite: boolean): void {
  outbox.marksDue = true;
  outbox.unrecorded = null;
  outbox.flushedAt = now;
  outbox.flushAt = outbox.tellAt = Infinity;
  outbox.restsAt = isMoreToWrite ? now + restAfter : Infinity;
}

export function noteSettled(outbox: Outbox, settled: boolean): void {
  outbox.settled = settled;
}

/** Only the due queue may call this: its order depends on it. */
export function setDueAt(outbox: Outbox, dueAt: number): void {
  outbox.dueAt = dueAt;
}

/** When the mark may be published, µs of the steady clock; `Infinity` if it has not changed. */
export function markDueAt({ markChanged, markedAt }: Outbox): number {
  return markChanged ? markedAt + storedEvery : Infinity;
}

export function noteMarked(outbox: Outbox, now: number): void {
  outbox.markChanged = false;
  outbox.markedAt = now;
}

export function noteEpochTold(outbox: Outbox, epoch: number): void {
  outbox.epochTold = epoch;
}

export function noteAlarmsPublished(outbox: Outbox): void {
  outbox.alarmsChanged = false;
}

/** Whether the marks of the boots go into the current commit; call it once in each. */
export function takeMarksDue(outbox: Outbox): boolean {
  const { marksDue } = outbox;
  outbox.marksDue = false;
  return marksDue;
}
