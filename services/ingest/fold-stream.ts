import { decodeReadings } from '../../shared/weld/decode/decode-readings.js';
import { decodeSenml } from '../../shared/weld/decode/decode-senml.js';
import type { FoldState } from '../../shared/weld/carriage-fold.js';
import { startFold } from '../../shared/weld/carriage-fold.js';
import type { FoldOutput } from '../../shared/weld/live-fold.js';
import { addItems, startLiveFold, takeFinal } from '../../shared/weld/live-fold.js';
import type { OrderedItem } from '../../shared/weld/order.js';
import { bootName, comparePositions, orderItem } from '../../shared/weld/order.js';
import type { FoldDeps } from './fold-deps.js';
import { contextOf, isLocked } from './fold-deps.js';
import { ensureEntry, rowsEnd } from './run-entries.js';
import { arrivalsPerMessage, dropKept, keptFrom, oldestKept } from './keep-messages.js';
import type { KeptMessage } from './kept-pack.js';
import type { CheckpointRow } from './statements.js';
import type { CheckpointPlace } from './stream-load.js';
import { foldVersion, readFold, writeFold } from './fold-checkpoint.js';
import { addGroup, emptyBatch } from './row-batch.js';
import type { RowBatch } from './row-batch.js';
import { recentRows } from './newest-rows.js';
import { bootOf } from './stream-load.js';
import type { StreamState } from './stream-state.js';
import { noteNewest } from './take-items.js';

/** A checkpoint is written when the stream has gone on by this much, µs. */
const checkpointEvery = 60_000_000;
const refoldChunk = 2_000;

/** Folds what was taken since the last time; what lies too far back marks the stream for folding again. */
export function foldFresh(stream: StreamState, deps: FoldDeps): void {
  const { fresh } = stream;
  if (fresh.length === 0) return;
  stream.fresh = [];
  stream.unflushed = true;
  const late = stream.dirtyFrom === null ? addItems(stream.live, fresh, contextOf(stream, deps)) : fresh;
  for (const item of late) markDirty(stream, item);
  if (stream.dirtyFrom === null) keepFinal(stream, deps);
}

function markDirty(stream: StreamState, item: OrderedItem): void {
  const { dirtyFrom } = stream;
  if (dirtyFrom === null || (typeof dirtyFrom !== 'string' && comparePositions(item, dirtyFrom) < 0)) stream.dirtyFrom = item;
  else if (dirtyFrom === 'latest') stream.dirtyFrom = 'start';
}

/** Writes the rows that no item within a few seconds can change any more; `unfolded` is the lowest number of arrival that waits to be folded. */
function keepFinal(stream: StreamState, deps: FoldDeps, unfolded = Infinity): void {
  const final = takeFinal(stream.live);
  if (final === null) return;
  keepOutput(stream, final.output, deps);
  keepCheckpoint(stream, final.state, unfolded, deps);
}

function keepOutput(stream: StreamState, output: readonly FoldOutput[], deps: FoldDeps): void {
  let ordinal = -1;
  let batch = emptyBatch();
  const write = (): void => {
    keepRows(stream, ordinal, batch, deps);
    batch = emptyBatch();
  };
  for (const own of output) {
    if (own.type === 'row') {
      if (ordinal !== own.ordinal) write();
      ordinal = own.ordinal;
      addGroup(batch, own.group);
      stream.recent.push({ ordinal, group: own.group });
    } else if (own.type === 'began') {
      ensureEntry(stream, own.ordinal, own.epoch, own.start, deps);
    } else {
      write();
      const entry = stream.runs.get(own.run.ordinal);
      stream.finishedRuns.set(own.run.ordinal, own.run);
      if (entry !== undefined && !isLocked(entry, deps)) {
        deps.traces.cut(entry.id, rowsEnd(own.run.lastOn));
        deps.traces.close(entry.id);
        stream.tails.delete(entry.id);
      }
    }
  }
  write();
  if (stream.recent.length > 2 * recentRows) stream.recent.splice(0, stream.recent.length - recentRows);
}

function keepRows(stream: StreamState, ordinal: number, batch: RowBatch, deps: FoldDeps): void {
  const entry = stream.runs.get(ordinal);
  if (entry === undefined || batch.runRows.length === 0 || isLocked(entry, deps)) return;
  deps.traces.appendRun(entry.id, batch.runRows);
  for (const [arc, rows] of batch.arcs) deps.traces.appendArc(entry.id, arc, rows);
}

function keepCheckpoint(stream: StreamState, state: FoldState, unfolded: number, deps: FoldDeps): void {
  const newest = state.newest;
  if (newest === null || state.position === null) return;
  if (stream.checkpointAt !== null && newest - stream.checkpointAt < checkpointEvery) return;
  stream.checkpointAt = newest;
  let needed = unfolded;
  for (const stretch of stream.live.stretches) {
    for (const item of stretch.items) needed = Math.min(needed, item.arrival);
  }
  const keptFrom = needed === Infinity ? deps.kept.last + 1 : Math.floor(needed / arrivalsPerMessage);
  const place: CheckpointPlace = { ...state.position, ordinal: state.merge.ordinal, version: foldVersion };
  deps.statements.addCheckpoint.run(stream.id, JSON.stringify(place), keptFrom, deps.now(), writeFold(state));
}

/** Folds again from the last checkpoint before what came late: rows, figures and runs are replaced. */
export function refold(stream: StreamState, deps: FoldDeps): void {
  const from = stream.dirtyFrom;
  if (from === null) return;
  const begun = performance.now();
  const checkpoint = dropLaterCheckpoints(stream, from, deps);
  const saved = checkpoint === null ? undefined : deps.statements.checkpointState.get(checkpoint.id);
  const state = saved === undefined ? startFold() : readFold(saved.state);
  const { statements, traces } = deps;
  const items = keptFrom(stream, checkpoint?.kept_from ?? 0, statements).flatMap((message) => decodeKept(stream, message, deps));
  const position = state.position;
  const usable = items.filter((item) => position === null || comparePositions(item, position) > 0).sort(comparePositions);
  for (const [ordinal, entry] of stream.runs) {
    if (ordinal >= state.merge.ordinal) {
      stream.orphans.push(entry);
      stream.runs.delete(ordinal);
    }
  }
  const open = state.merge.run ?? state.merge.resumable;
  const entry = open === null ? undefined : stream.runs.get(open.ordinal);
  if (entry !== undefined && !isLocked(entry, deps)) traces.cut(entry.id, state.merge.next ?? 0);
  stream.live = startLiveFold(state);
  stream.recent = [];
  stream.finishedRuns.clear();
  stream.dirtyFrom = null;
  stream.checkpointAt = state.newest;
  const context = contextOf(stream, deps);
  const unfolded = lowestArrivals(usable);
  for (let at = 0; at < usable.length; at += refoldChunk) {
    addItems(stream.live, usable.slice(at, at + refoldChunk), context);
    keepFinal(stream, deps, unfolded[at + refoldChunk]);
  }
  for (const item of items) noteNewest(stream, item);
  stream.unflushed = true;
  stream.refoldCost = performance.now() - begun;
  stream.refoldedAt = performance.now();
}

/** For each item the lowest number of arrival from it on: what is later in order may have come first. */
function lowestArrivals(items: readonly OrderedItem[]): number[] {
  const lowest = items.map((item) => item.arrival);
  for (let at = lowest.length - 2; at >= 0; at -= 1) lowest[at] = Math.min(lowest[at] ?? Infinity, lowest[at + 1] ?? Infinity);
  return lowest;
}

/** The newest checkpoint that holds none of what is to be folded again; later ones are wrong now. */
function dropLaterCheckpoints(stream: StreamState, from: NonNullable<StreamState['dirtyFrom']>, deps: FoldDeps): CheckpointRow | null {
  const all = deps.statements.checkpoints.all(stream.id);
  let usable: CheckpointRow | null = null;
  for (const checkpoint of all) {
    const place = JSON.parse(checkpoint.position) as CheckpointPlace;
    if (place.version !== foldVersion) continue;
    const before = from === 'latest' || (from !== 'start' && comparePositions(place, from) < 0);
    if (before) usable = checkpoint;
    else if (checkpoint !== all[0]) deps.statements.dropCheckpoint.run(checkpoint.id);
  }
  const first = all[0];
  if (usable !== null || first === undefined) return usable;
  // Where the items before the oldest checkpoint are gone, it is the beginning of what can be known.
  const oldest = oldestKept(stream, deps.statements);
  const readable = (JSON.parse(first.position) as CheckpointPlace).version === foldVersion;
  if (readable && (oldest === undefined || oldest >= first.kept_from)) return first;
  deps.statements.dropCheckpoint.run(first.id);
  return null;
}

/** The items of a kept message that counted, in the order given to them when they came. */
export function decodeKept(stream: StreamState, message: KeptMessage, deps: FoldDeps): OrderedItem[] {
  const { number, arrived, kind, payload } = message;
  const decoded = kind === 'senml' ? decodeSenml(payload, arrived) : decodeReadings(payload);
  const taken = message.taken === null ? null : new Set(message.taken);
  const items: OrderedItem[] = [];
  decoded.items.forEach((entry, position) => {
    if (entry.kind !== 'item' || (taken !== null && !taken.has(position))) return;
    const { item } = entry;
    const { rank } = bootOf(stream, bootName(item), deps.statements);
    items.push(orderItem(item, rank, arrived, number * arrivalsPerMessage + position));
  });
  return items;
}

/** Finished runs that are remembered for telling which of them a late item belongs to. */
const rememberedRuns = 200;

/** Lets go of kept items and checkpoints that no run can be revised from any more. */
export function dropOld(stream: StreamState, deps: FoldDeps, most: number): void {
  let lowest = Infinity;
  for (const entry of stream.runs.values()) if (!isLocked(entry, deps)) lowest = Math.min(lowest, entry.ordinal);
  const ordinals = [...stream.runs.keys()].sort((a, b) => a - b);
  for (const ordinal of ordinals.slice(0, -rememberedRuns)) {
    const entry = stream.runs.get(ordinal);
    if (entry !== undefined && isLocked(entry, deps)) stream.runs.delete(ordinal);
  }
  const all = deps.statements.checkpoints.all(stream.id);
  const floor = all.findLast((checkpoint) => {
    const place = JSON.parse(checkpoint.position) as CheckpointPlace;
    return deps.now() - checkpoint.created > deps.lateFor && place.ordinal <= lowest;
  });
  if (floor === undefined) return;
  dropKept(stream, floor.kept_from, most, deps.statements);
  for (const checkpoint of all) if (checkpoint.id < floor.id) deps.statements.dropCheckpoint.run(checkpoint.id);
}
