import type { FoldState } from '../../../shared/weld/run/carriage-fold.js';
import { addItems, takeFinal, type FoldedRow, type FoldOutput } from '../../../shared/weld/run/live-fold.js';
import { comparePositions, type OrderedItem } from '../../../shared/weld/items/order.js';
import { columnOf, runColumn } from '../../../shared/weld/rows/row.js';
import { dropCheckpoints, foldFromLatest, foldFromRow, keepCheckpoint, raiseFloor } from './checkpoints.js';
import { isLocked, type FoldDeps } from './fold-deps.js';
import { ensureEntry, rowsEnd } from './run-entries.js';
import { batchOf, noRows } from './row-batch.js';
import { addRecentRow } from './newest-rows.js';
import type { Carriage } from './carriage.js';
import { addUnder } from './sums-under.js';
import { restartFold, type CarriageFold, type PlacedCheckpoint } from './fold-state.js';
import { noteNewest } from './intake.js';
import { noteNews } from './outbox.js';
import { entryOf, forgetEntry, hasRunBefore, orphanFrom, type SumsUnder } from './run-book.js';

const refoldChunk = 2_000;

/** Work that is done before the time is checked again: this many readings, each of which costs about as much as this many samples of a block. */
const partOfWork = 50;
const samplesOfReading = 100;

/** Whether what waits to be folded is so little that nobody has to wait for it. */
export function isShort({ fresh }: CarriageFold): boolean {
  return fresh.length <= partOfWork && partEnd(fresh, 0) === fresh.length;
}

/** Where the part of the work that begins at `from` ends: it has at least one item. */
function partEnd(items: readonly OrderedItem[], from: number): number {
  let at = from;
  for (let work = 0; at < items.length && work < partOfWork; at += 1) work += Math.max(1, (items[at]?.count ?? 1) / samplesOfReading);
  return at;
}

/**
 * Folds what came since the last time; an item too far back marks the stream to be folded again. After `until`, ms of the steady clock, the rest is
 * left for the next time, though at least one part is always folded.
 */
export function foldFresh(carriage: Carriage, deps: FoldDeps, until = Infinity): void {
  const { fold, outbox } = carriage;
  if (fold.fresh.length === 0) return;
  noteNews(outbox);
  const waiting = fold.dirtyFrom === null ? fold.fresh.sort(comparePositions) : [];
  // If everything has to be folded again, these items are read with what is kept.
  fold.fresh = [];
  let at = 0;
  while (at < waiting.length && (at === 0 || deps.steady() / 1e3 < until)) {
    const end = until === Infinity ? waiting.length : partEnd(waiting, at);
    if (addItems(fold.live, waiting.slice(at, end), fold.context).length > 0) {
      foldFromLatest(carriage, deps);
      return;
    }
    at = end;
  }
  if (fold.dirtyFrom !== null) return;
  fold.fresh = waiting.slice(at);
  // A checkpoint must not lack anything before it, and a run that began has to be recorded with it.
  if (fold.fresh.length === 0) keepFinal(carriage, deps);
}

/** Writes the rows that no item within a few seconds can change any more; `unfolded` is the lowest arrival number that waits to be folded. */
function keepFinal(carriage: Carriage, deps: FoldDeps, unfolded = Infinity): void {
  const { fold } = carriage;
  const final = takeFinal(fold.live);
  if (final === null) return;
  keepOutput(carriage, final.output, deps);
  // A checkpoint after what has to be folded again would be used as its beginning.
  if (fold.dirtyFrom === null) keepCheckpoint(carriage, final.state, unfolded, deps);
}

export function keepOutput(carriage: Carriage, output: readonly FoldOutput[], deps: FoldDeps): void {
  const { fold, runs } = carriage;
  let ordinal = -1;
  let batch: FoldedRow[] = [];
  const write = (): void => {
    keepRows(carriage, ordinal, batch, deps);
    batch = [];
  };
  for (const own of output) {
    if (own.type === 'row') {
      if (ordinal !== own.ordinal) write();
      ordinal = own.ordinal;
      batch.push(own);
      addUnder(runs.entries.get(ordinal)?.under ?? null, own);
      addRecentRow(fold, own);
    } else if (own.type === 'began') {
      ensureEntry(carriage, own, deps);
    } else {
      write();
      const entry = entryOf(runs, own.run);
      runs.finished.set(own.run.ordinal, own.run);
      if (entry !== undefined && !isLocked(entry, deps)) {
        deps.traces.cut(entry.id, rowsEnd(own.run.lastOn));
        deps.traces.close(entry.id);
        // All of its rows are final now; earlier provisional ones would be read beside them.
        deps.traces.setTail(entry.id, [], noRows);
        runs.tails.delete(entry.id);
      }
    }
  }
  write();
}

function keepRows(carriage: Carriage, ordinal: number, batch: readonly FoldedRow[], deps: FoldDeps): void {
  const { runs } = carriage;
  const entry = runs.entries.get(ordinal);
  if (entry === undefined || batch.length === 0 || isLocked(entry, deps)) return;
  const end = rowsEnd(entry.lastOn);
  if (runs.cut.has(entry.id) && batch.some(({ rows, at }) => columnOf(rows, at, runColumn.on) > 0 && columnOf(rows, at, runColumn.index) >= end)) {
    // The run seemed to be over and continues: the rows in the dark in between are made again.
    runs.cut.delete(entry.id);
    foldFromRow(carriage, entry, end, deps);
  }
  const { runRows, arcs } = batchOf(batch);
  deps.traces.appendRun(entry.id, runRows);
  for (const { arc, rows } of arcs) deps.traces.appendArc(entry.id, arc, rows);
}

/** What is read to fold a stream again. */
export interface FoldBeginning {
  /** The state at which folding begins: after a checkpoint, or at the very start. */
  readonly state: FoldState;
  readonly checkpoint: PlacedCheckpoint | null;
  /** Numbers of checkpoints that cannot be used for folding. */
  readonly unusable: ReadonlySet<number>;
  /** Everything that is kept, before and after that place, in order of arrival. */
  readonly items: readonly OrderedItem[];
  /** The sums of the run in the state, if a person gave it another assignment. */
  readonly under: SumsUnder | null;
}

/** The items after the place where folding begins, in order. */
export function itemsBehind({ state: { position }, items }: Pick<FoldBeginning, 'state' | 'items'>): OrderedItem[] {
  return items.filter((item) => position === null || comparePositions(item, position) > 0).sort(comparePositions);
}

/** Folds again from the beginning given: rows, figures and runs are replaced. */
export function refold(carriage: Carriage, beginning: FoldBeginning, deps: FoldDeps): void {
  const { state, checkpoint, unusable, items, under } = beginning;
  const usable = itemsBehind(beginning);
  const { fold, intake, runs, alarms } = carriage;
  // What the alarms were brought up to date to is no more.
  alarms.followed.clear();
  dropCheckpoints(fold, ({ number }) => unusable.has(number), deps);
  orphanFrom(runs, state.merge.ordinal);
  const entry = entryOf(runs, state.merge.run ?? state.merge.resumable);
  if (entry !== undefined && !isLocked(entry, deps)) {
    entry.under = under;
    deps.traces.cut(entry.id, state.merge.next ?? 0);
    // Whatever was cut after its end is made again.
    if ((state.merge.next ?? 0) <= rowsEnd(entry.lastOn)) runs.cut.delete(entry.id);
  }
  restartFold(fold, state, checkpoint);
  const unfolded = lowestArrivals(usable);
  for (let at = 0; at < usable.length; at += refoldChunk) {
    addItems(fold.live, usable.slice(at, at + refoldChunk), fold.context);
    keepFinal(carriage, deps, unfolded[at + refoldChunk]);
  }
  for (const item of items) noteNewest(intake, item);
  noteNews(carriage.outbox);
}

/** For each item, the lowest arrival number from it on: what is later in order may have come first. */
function lowestArrivals(items: readonly OrderedItem[]): number[] {
  const lowest = items.map((item) => item.arrival);
  for (let at = lowest.length - 2; at >= 0; at -= 1) lowest[at] = Math.min(lowest[at] ?? Infinity, lowest[at + 1] ?? Infinity);
  return lowest;
}

/** Finished runs that are remembered to find out to which of them a late item belongs. */
const rememberedRuns = 200;

/**
 * A late item from before the floor goes on the list of a decided run. A carriage that has no decided run yet keeps everything for this long, µs:
 * about 20 MB at 10 Hz. Common practice, no source: half a shift.
 */
const keptWithoutRuns = 4 * 3_600_000_000;

/** Drops kept items and checkpoints from which no run can be revised any more. */
export function dropOld({ id, fold, runs }: Carriage, deps: FoldDeps, most: number): void {
  let lowest = Infinity;
  for (const entry of runs.entries.values()) if (!isLocked(entry, deps)) lowest = Math.min(lowest, entry.ordinal);
  const ordinals = [...runs.entries.keys()].sort((a, b) => a - b);
  for (const ordinal of ordinals.slice(0, -rememberedRuns)) {
    const entry = runs.entries.get(ordinal);
    if (entry !== undefined && isLocked(entry, deps)) forgetEntry(runs, ordinal);
  }
  const { lateFor } = deps;
  const before = raiseFloor(fold, ({ created, place }) => {
    const age = deps.now() - created;
    if (place.floor === true || age <= lateFor || place.ordinal > lowest) return place.floor === true;
    return age > Math.max(lateFor, keptWithoutRuns) || hasRunBefore(runs, place.ordinal);
  }, deps);
  if (before !== null) deps.changes.drops.push({ kept: id, before, most });
}
