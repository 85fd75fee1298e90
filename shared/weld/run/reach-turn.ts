import type { ArcState } from '../arcs/arc-state.js';
import { advanceMotion, cloneMotion, signedTravel, type Motion } from '../arcs/motion.js';
import { rowLength } from '../rows/row.js';
import type { MergeState } from './merge-state.js';
import type { RunState } from './run-state.js';

/** A rounding error in computed places, mm. */
const samePlace = 1e-6;

/** As much of the fold as says where the carriage is. */
export interface FoldedPlace {
  readonly epoch: number;
  readonly arcs: readonly ArcState[];
  readonly motion: Motion;
  readonly merge: MergeState;
}

/** The questions about turns that arise when an item has been folded. Lengths mm. */
export interface TurnContext {
  turnLength(epoch: number): number;
  nextTurn(epoch: number): number;
  turnsBetween(before: number, epoch: number): number | null;
}

/**
 * The epoch of an item that begins at `at` (µs) and is folded already, but for its own values: the turns that the carriage has made by then, counted from where the
 * first run of the series was lit, have each begun the next one. Only while an arc burns: work that is turned with its arcs out is not welded. The place is that
 * of the run (`travelled`), so a data gap counts once it is known to be one.
 */
export function epochReached({ epoch, arcs, motion, merge }: FoldedPlace, at: number, maxHold: number, context: TurnContext): number {
  const { run } = merge;
  if (run === null || !arcs.some(burnsOn)) return epoch;
  const between = context.turnsBetween(run.epoch, epoch);
  if (between === null) return epoch;
  const made = Math.abs(placeAt(run, merge, motion, arcs, at, maxHold) - run.turnFrom);
  let reached = epoch;
  for (let border = between + context.turnLength(reached); made >= border - samePlace; border += context.turnLength(reached)) reached = context.nextTurn(reached);
  return reached;
}

/** Whether an arc burns, and nothing suggests that it has gone out. */
function burnsOn({ on, undecided }: ArcState): boolean {
  return on && undecided.every(({ kind }) => kind === 'gap');
}

/** Where the carriage is at a time that the rows have not reached, mm travelled in the run. */
function placeAt(run: RunState, { next }: MergeState, motion: Motion, arcs: readonly ArcState[], at: number, maxHold: number): number {
  const from = next === null ? run.start : Math.max(run.start, next * rowLength);
  let ahead = motion;
  const waiting = motion.knots[0];
  if (waiting !== undefined && waiting.at <= at) {
    ahead = cloneMotion(motion);
    advanceMotion(ahead, at, maxHold);
  }
  return run.travelled + signedTravel(ahead, from, at, arcs.some(({ decided }) => decided.some(({ kind }) => kind === 'gap')));
}

/**
 * Where a turn has begun the run, its own turn is counted from where that of the run `before` it ended, which mostly lies a little before the run: a run waits for an
 * item. The run before has moved up to `moved` (µs).
 */
export function continueTurns(run: RunState, before: RunState, moved: number, motion: Motion, context: Pick<TurnContext, 'turnsBetween'>): void {
  const turns = run.litElsewhere ? null : context.turnsBetween(before.epoch, run.epoch);
  if (turns === null || turns === 0) return;
  const since = moved > run.start ? -signedTravel(motion, run.start, moved, false) : signedTravel(motion, moved, run.start, false);
  const made = before.travelled + since - before.turnFrom;
  run.turnFrom = (made < 0 ? -turns : turns) - made;
}
