import { arcKnownTo, cloneArc, endSilentArc, feedArc, settleArc, startArc, type ArcState } from '../arcs/arc-state.js';
import { cloneDeviceClock, placeItem, startDeviceClock, type DeviceClock, type PlacedItem } from '../items/device-clock.js';
import type { Place } from '../items/place.js';
import { emptyTally, tallyItem, type ItemTally } from '../items/item-tally.js';
import { correctVoltage } from '../arcs/correct-voltage.js';
import type { Sensors } from '../procedure/sensors.js';
import { sensorsInForce } from './sensors-in-force.js';
import { mergeRows } from './merge-rows.js';
import { cloneMerge, startMerge, type MergeState, type RunContext, type RunSink } from './merge-state.js';
import { advanceMotion, cloneMotion, extendMotion, feedMotion, startMotion, type Motion } from '../arcs/motion.js';
import { feedPlate } from '../temperatures/plate-samples.js';
import type { OrderedItem, Position } from '../items/order.js';
import { epochReached, type TurnContext } from './reach-turn.js';
import { entryIndex } from './turn-epochs.js';

/** An arc that is out and has been silent for this long no longer delays the rows of the others, µs. */
const silentAfter = 3_000_000;

/**
 * Everything that is known of one carriage after a number of items in order. Plain data: a copy is a checkpoint, and folding the same items from it
 * gives the same results to the last bit.
 */
export interface FoldState {
  clock: DeviceClock;
  motion: Motion;
  /** The arcs are in order of their number. */
  arcs: ArcState[];
  merge: MergeState;
  /** The assignment in force, and the turn under it (`turn-epochs.ts`). */
  epoch: number;
  /** The revision of the sensors by which items are read; -1 without one. */
  sensors: number;
  /** Latest time of an item, µs of corrected time. */
  newest: number | null;
  position: Position | null;
  /** The tally of all folded items, by which the stored items can be checked against the state. */
  held: ItemTally;
}

export interface FoldContext extends RunContext, TurnContext {
  /** The epoch of an item, given that of the item before it; turns that it completes come on top. */
  epochOf(placed: PlacedItem, current: number): number;
  /** The newest revision of the sensors that was declared before an item came; -1 if there is none. */
  sensorsAt(place: Place): number;
  sensorsOf(revision: number): Sensors | null;
}

export function startFold(): FoldState {
  return { clock: startDeviceClock(), motion: startMotion(), arcs: [], merge: startMerge(), epoch: -1, sensors: -1, newest: null, position: null, held: emptyTally() };
}

export function cloneFold(state: FoldState): FoldState {
  return { ...state, clock: cloneDeviceClock(state.clock), motion: cloneMotion(state.motion), arcs: state.arcs.map(cloneArc), merge: cloneMerge(state.merge), held: { ...state.held } };
}

function arcOf(state: FoldState, number: number): ArcState {
  for (const own of state.arcs) if (own.arc === number) return own;
  const begun = startArc(number);
  state.arcs.push(begun);
  state.arcs.sort((a, b) => a.arc - b.arc);
  return begun;
}

/** Folds one item, the next in order, into the state (in place); rows and runs that it completes go to `sink`. */
export function foldItem(state: FoldState, item: OrderedItem, context: FoldContext, sink: RunSink): void {
  const { settings } = context;
  const sent = placeItem(state.clock, item, settings.maxHold);
  const epoch = context.epochOf(sent, state.epoch);
  state.sensors = sensorsInForce(state, sent, epoch, context);
  state.epoch = epoch;
  sent.facts.sensors = state.sensors;
  const placed = correctVoltage(sent, context.sensorsOf(state.sensors));
  const newest = Math.max(state.newest ?? placed.start, placed.start);
  state.newest = newest;
  state.position = { rank: item.rank, key: item.key, arc: item.arc, arrival: item.arrival };
  tallyItem(state.held, item);
  const arc = arcOf(state, item.arc);
  feedMotion(state.motion, placed);
  feedPlate(state.merge.plate, placed);
  feedArc(arc, placed, state.epoch, settings);
  let limit = newest;
  for (const own of state.arcs) {
    if (own !== arc) endIfOvertaken(own, state, newest, context);
    if (own.on || own.undecided.length > 0 || newest - (own.pending?.placed.start ?? newest) <= silentAfter) {
      limit = Math.min(limit, arcKnownTo(own));
    }
  }
  advanceMotion(state.motion, limit, settings.maxHold);
  mergeRows(state.merge, state.arcs, state.motion, Math.min(limit, state.motion.knownTo ?? limit), context, sink);
  if (context.turnLength(state.epoch) < Infinity) enterTurn(state, arc, sent, context);
}

/** An item at or after a full turn is the first of the next run, which is read by the newest sensors; whatever held until it belongs to the run before. */
function enterTurn(state: FoldState, arc: ArcState, sent: PlacedItem, context: FoldContext): void {
  const epoch = epochReached(state, sent.start, context.settings.maxHold, context);
  if (epoch === state.epoch) return;
  state.epoch = epoch;
  state.sensors = context.sensorsAt(sent.item);
  sent.facts.sensors = state.sensors;
  arc.pending = { placed: correctVoltage(sent, context.sensorsOf(state.sensors)), epoch };
}

/** Ends a burning arc that is silent after the others have reached a point where it can no longer continue. */
function endIfOvertaken(own: ArcState, state: FoldState, newest: number, context: FoldContext): void {
  const { pending } = own;
  if (pending === null || !own.on) return;
  const silent = newest - pending.placed.end;
  // Within this time its next item may still be on the way, in the same message or the next.
  if (silent <= context.settings.maxHold) return;
  if (entryIndex(pending.epoch) !== entryIndex(state.epoch) || silent > context.settings.runEndAfter) endSilentArc(own, newest, context.settings);
}

/**
 * Brings a copy of the state to the present, as if no further item came. The newest item of each arc holds for no time, undecided pieces keep the
 * state before them, and every row is made.
 */
export function settleFold(state: FoldState, context: FoldContext, sink: RunSink): void {
  let end = state.newest ?? 0;
  for (const own of state.arcs) {
    settleArc(own, context.settings);
    end = Math.max(end, own.coveredTo ?? 0);
  }
  advanceMotion(state.motion, Infinity, context.settings.maxHold);
  extendMotion(state.motion, end);
  mergeRows(state.merge, state.arcs, state.motion, Infinity, context, sink);
}
