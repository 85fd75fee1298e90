import type { ArcState, Piece } from '../arcs/arc-state.js';
import { dropFirst } from '../items/drop-first.js';
import { union, type Intervals } from '../rows/intervals.js';
import { makeRunRow, travelOver } from '../arcs/make-run-row.js';
import { addTravel, dropMotionBefore, noTravel, signedTravel, type Motion } from '../arcs/motion.js';
import { dropPlateBefore, runBeginning } from '../temperatures/plate-samples.js';
import { arcColumn, columnOf, rowLength, runColumn } from '../rows/row.js';
import { addPiece, finishRow, isBegun, startRow, type RowBuilder } from '../arcs/row-builder.js';
import { beginArcRow, beginGroup, endGroup } from '../rows/row-group.js';
import type { MergeState, RunContext, RunSink } from './merge-state.js';
import { noteCutOff, noteJump, notePieces, type TakenPiece } from './run-events.js';
import { continueTurns } from './reach-turn.js';
import { isElsewhere, noteClosing, noteDensity, noteFacts, startRun, type RunState } from './run-state.js';
import { addRow } from './run-sums.js';

/** Makes every row that ends by `limit` (µs of corrected time), or all remaining rows if `limit` is Infinity. */
export function mergeRows(state: MergeState, arcs: readonly ArcState[], motion: Motion, limit: number, context: RunContext, sink: RunSink): void {
  for (;;) {
    let first = Infinity;
    for (const own of arcs) {
      const head = own.decided[0];
      if (head !== undefined) first = Math.min(first, Math.max(head.from, own.usedTo));
    }
    if (first === Infinity) break;
    const index = Math.max(Math.floor(first / rowLength), state.next ?? Number.NEGATIVE_INFINITY);
    const end = (index + 1) * rowLength;
    if (end > limit) break;
    passDark(state, index * rowLength, motion, context, sink);
    const moved: RunState[] = [];
    for (let epoch = lowestEpoch(arcs, end, state.epoch); epoch !== null; epoch = lowestEpoch(arcs, end, state.epoch)) {
      const before = state.run ?? state.resumable;
      const run = mergeRow(state, arcs, motion, index, epoch, context, sink);
      if (run !== null && before !== null && run !== before) continueTurns(run, before, moved.includes(before) ? end : index * rowLength, motion, context);
      if (run !== null) moved.push(run);
    }
    // A run that may be lit again is travelled away from, also while another one burns.
    const { resumable } = state;
    if (resumable !== null && !moved.includes(resumable)) resumable.travelled += signedTravel(motion, index * rowLength, end, false);
    state.next = index + 1;
    dropMotionBefore(motion, end);
    // A run that begins in the next row may begin with it.
    dropPlateBefore(state.plate, end - rowLength);
    for (const own of arcs) if (own.decided.length === 0) own.usedTo = Number.NEGATIVE_INFINITY;
  }
}

/** The lowest assignment in the row. Values that a lagging arc still sends for an assignment that the carriage has left count for the current one. */
function lowestEpoch(arcs: readonly ArcState[], end: number, current: number): number | null {
  let lowest: number | null = null;
  const straddling = straddlingEpoch(arcs, end, current);
  for (const own of arcs) {
    const head = own.decided[0];
    if (head === undefined || Math.max(head.from, own.usedTo) >= end) continue;
    const epoch = epochOf(head, current, straddling);
    if (lowest === null || epoch < lowest) lowest = epoch;
  }
  return lowest;
}

/** The lowest assignment with an arc that burns on past the row with values begun under it, since that interval is still its run's; else Infinity. */
function straddlingEpoch(arcs: readonly ArcState[], end: number, current: number): number {
  let lowest = Infinity;
  for (const { decided } of arcs) {
    for (const piece of decided) {
      if (piece.from >= end) break;
      if (piece.to > end && (piece.kind === 'on' || piece.kind === 'gap')) lowest = Math.min(lowest, Math.max(piece.epoch, current));
    }
  }
  return lowest;
}

/** The assignment of a piece. An arc that is off and sends for the next one does not end the run while another's interval straddles the change. */
function epochOf({ kind, epoch }: Piece, current: number, straddling: number): number {
  const own = Math.max(epoch, current);
  return kind === 'off' ? Math.min(own, straddling) : own;
}

/** Passes rows in which nothing was sent: the carriage may still have moved, and a run may have ended. */
function passDark(state: MergeState, until: number, motion: Motion, context: RunContext, sink: RunSink): void {
  if (state.next === null) return;
  const from = state.next * rowLength;
  if (until <= from) return;
  for (const run of [state.run, state.resumable]) if (run !== null) run.travelled += signedTravel(motion, from, until, false);
  endIfDark(state, until, context, sink);
}

function endIfDark(state: MergeState, now: number, context: RunContext, sink: RunSink): void {
  const run = state.run;
  if (run === null) return;
  const assigned = context.assigned(run.epoch);
  const { runEndAfter, unassignedRunEndAfter } = context.settings;
  if (now - run.lastOn >= (assigned ? runEndAfter : unassignedRunEndAfter)) finish(state, context, sink);
}

function finish(state: MergeState, context: RunContext, sink: RunSink): void {
  const run = state.run;
  if (run === null) return;
  run.finished = true;
  sink.finished(run);
  if (context.assigned(run.epoch)) state.resumable = run;
  state.run = null;
}

function enterEpoch(state: MergeState, epoch: number, rowStart: number, motion: Motion, context: RunContext, sink: RunSink): void {
  if (epoch === state.epoch) return;
  const run = state.run;
  if (run !== null && !(context.assigned(epoch) && context.sameRun(run.epoch, epoch))) {
    noteCutOff(run, motion, rowStart);
    finish(state, context, sink);
  } else if (run !== null) run.epoch = epoch;
  state.epoch = epoch;
}

/** The run that burns there: the open one, one that is continued, or a new one that begins with `first`. */
function ensureRun(state: MergeState, epoch: number, first: TakenPiece | null, motion: Motion, context: RunContext, sink: RunSink): RunState {
  const before = state.run ?? resumed(state, epoch, context);
  const again = before !== null && first !== null && first.piece.lit && first.begins && isElsewhere(before, motion, first.from);
  if (again && state.run !== null) finish(state, context, sink);
  if (state.run !== null) return state.run;
  if (before !== null && !again) {
    before.finished = false;
    before.cutOff = false;
    before.epoch = epoch;
    state.run = before;
  } else {
    const begin = { ordinal: state.ordinal, sensors: first?.piece.facts?.sensors ?? -1, ...runBeginning(state.plate, state.began, first?.from ?? 0) };
    state.run = startRun({ ...begin, epoch, litElsewhere: again }, context.parameters(epoch, begin));
    state.ordinal += 1;
    state.began = begin.start;
  }
  // An unassigned run in between does not replace an assigned one.
  if (context.assigned(epoch)) state.resumable = null;
  sink.began(state.run);
  return state.run;
}

/** The earlier run that an assignment continues. */
function resumed({ resumable }: MergeState, epoch: number, context: RunContext): RunState | null {
  return resumable !== null && context.assigned(epoch) && context.sameRun(resumable.epoch, epoch) ? resumable : null;
}

/** The contribution of one arc to the current row. */
interface ArcPart {
  readonly own: ArcState;
  readonly pieces: readonly TakenPiece[];
}

/** Removes the pieces of one assignment from the arcs, up to the end of the row. */
function takeParts(arcs: readonly ArcState[], current: number, epoch: number, end: number): ArcPart[] {
  const parts: ArcPart[] = [];
  const straddling = straddlingEpoch(arcs, end, current);
  for (const own of arcs) {
    const pieces: TakenPiece[] = [];
    let taken = 0;
    for (const piece of own.decided) {
      const from = Math.max(piece.from, own.usedTo);
      if (epochOf(piece, current, straddling) !== epoch || from >= end) break;
      const to = Math.min(piece.to, end);
      pieces.push({ piece, from, to, begins: from === piece.from });
      own.usedTo = to;
      if (piece.to > end) break;
      taken += 1;
    }
    dropFirst(own.decided, taken);
    if (pieces.length > 0) parts.push({ own, pieces });
  }
  return parts;
}

/** With what the first arc begins to burn in the row; null if none does. */
function firstBurning(parts: readonly ArcPart[]): TakenPiece | null {
  let first: TakenPiece | null = null;
  for (const { pieces } of parts) {
    for (const own of pieces) {
      if ((own.piece.kind === 'on' || own.piece.kind === 'gap') && (first === null || own.from < first.from)) first = own;
    }
  }
  return first;
}

/** Makes the row of one assignment. Returns the run that it belongs to, or null where the arcs are out and no run is open. */
function mergeRow(state: MergeState, arcs: readonly ArcState[], motion: Motion, index: number, epoch: number, context: RunContext, sink: RunSink): RunState | null {
  const rowStart = index * rowLength;
  const end = rowStart + rowLength;
  const parts = takeParts(arcs, state.epoch, epoch, end);
  const first = firstBurning(parts);
  enterEpoch(state, epoch, rowStart, motion, context, sink);
  if (first === null) endIfDark(state, rowStart, context, sink);
  // A run that may be lit again is told of a step of the clock, also while another one burns.
  if (state.resumable !== null) for (const { pieces } of parts) for (const { piece } of pieces) noteStep(state.resumable, piece.facts);
  if (first === null && state.run === null) return null;
  const ordinal = state.ordinal;
  const run = ensureRun(state, epoch, first, motion, context, sink);
  const start = state.ordinal > ordinal ? Math.max(rowStart, Math.min(first?.from ?? end, end)) : rowStart;

  let burning: Intervals = [];
  let gaps: Intervals = [];
  const { room } = sink;
  const at = beginGroup(room, parts.length);
  const { rows } = room;
  const made: RowBuilder[] = [];
  for (const { own, pieces } of parts) {
    const row = startRow(rows, beginArcRow(rows, at, made.length, own.arc));
    addPieces(run, own, pieces, row);
    // A row in which the arc sent nothing is left out: the run's row contains the gap.
    if (isBegun(row)) made.push(row);
    burning = burning.length === 0 ? union(row.burning) : union([...burning, ...row.burning]);
    if (row.gaps.length > 0) gaps = union([...gaps, ...row.gaps]);
  }
  const reach = Math.min(end, Math.max(motion.knownTo ?? end, start));
  const estimated = gaps.length > 0;
  const whole = noTravel();
  addTravel(whole, motion, start, reach, estimated);
  endGroup(room, at, made.length);
  makeRunRow(rows, at, { index, start, travelled: run.travelled }, motion, whole, burning, gaps);
  for (const { own, pieces } of parts) notePieces(run, own.arc, pieces, { motion, start, estimated, travelled: run.travelled });
  for (const row of made) {
    const begun = columnOf(rows, row.own, arcColumn.from);
    const first = Number.isNaN(begun) ? start : Math.max(begun, rowStart);
    const only = gaps.length === 0 && sameIntervals(burning, row.burning);
    const length = row.burning.length === 0 ? 0 : only ? columnOf(rows, at, runColumn.length) : travelOver(motion, union(row.burning), false).absolute;
    const travelled = first <= start ? run.travelled : run.travelled + signedTravel(motion, start, first, estimated);
    finishRow(row, index, length, travelled);
  }
  run.travelled += whole.signed;
  const lastOn = Math.max(burning.at(-1)?.[1] ?? 0, gaps.at(-1)?.[1] ?? 0);
  if (lastOn > run.lastOn) run.lastOn = lastOn;
  noteJump(run, whole.jump, burning.length > 0);
  addRow(run.sums, rows, at);
  sink.row(run, rows, at);
  return run;
}

/** Remembers a step of the clock, which is the run's once it burns on. */
function noteStep(run: RunState, facts: Piece['facts']): void {
  if (facts !== null && facts.steppedAt !== null && facts.steppedAt > run.start) run.steppedInDark = true;
}

/** Adds an arc's pieces to its row, and the facts about their items to the run. */
function addPieces(run: RunState, own: ArcState, pieces: readonly TakenPiece[], row: RowBuilder): void {
  const outAt = run.arcs[own.arc]?.outAt ?? Number.NEGATIVE_INFINITY;
  for (const { piece, from, to, begins } of pieces) {
    const { facts } = piece;
    if (piece.lit && begins) own.litAt = piece.from;
    addPiece(row, piece, from, to, begins, Math.max(own.litAt, outAt));
    if (piece.kind === 'off') noteStep(run, facts);
    if (piece.kind !== 'on') continue;
    if (facts !== null) noteFacts(run, facts);
    if (piece.closing !== null) noteClosing(run, piece.closing);
    if (piece.part !== null && piece.part.density !== null) noteDensity(run, own.arc, piece.part.density);
  }
}

function sameIntervals(a: Intervals, b: Intervals): boolean {
  if (a.length !== 1) return false;
  return union(b).length === 1 && a[0]?.[0] === b[0]?.[0] && a[0]?.[1] === b.at(-1)?.[1];
}
