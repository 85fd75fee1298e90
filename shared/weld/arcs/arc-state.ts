import { clonePart, spreadBlock, type BlockPart, type EventWatch } from './block-part.js';
import type { ItemFacts, PlacedItem } from '../items/device-clock.js';
import { valueAt, type SentValues } from '../items/item.js';
import type { WeldSettings } from '../weld-settings.js';

/** A stretch of one arc's time, judged as off, on or in a data gap, or the instant at which the arc went out. */
export interface Piece {
  kind: 'off' | 'on' | 'gap' | 'out';
  readonly epoch: number;
  readonly from: number;
  readonly to: number;
  /** Whether the arc was lit at `from`. */
  lit: boolean;
  /** Values of a reading; those of a block are in `part`. NaN where not sent. */
  readonly current: number;
  readonly voltage: number;
  /** The voltage as it was sent, if `voltage` is corrected for the cable. */
  readonly rawVoltage: number;
  readonly plateTemperature: number;
  /** The reading; null where the piece has none. */
  readonly item: SentValues | null;
  readonly part: BlockPart | null;
  readonly facts: ItemFacts | null;
  /** The item that ended the time for which a reading held, if one did: the interval up to it still belongs to the run. */
  readonly closing: ItemFacts | null;
}

/** What is known of one arc: whether it burns, and what cannot be judged before more items arrive. */
export interface ArcState {
  readonly arc: number;
  on: boolean;
  /** The newest item: it holds until the next one comes. */
  pending: { readonly placed: PlacedItem; readonly epoch: number } | null;
  /** The time up to which there are values, µs. */
  coveredTo: number | null;
  part: BlockPart | null;
  watch: EventWatch;
  /** Pieces that show the other state, but not for long enough yet, and the time for which they have (µs). */
  undecided: Piece[];
  held: number;
  since: number;
  /** The judged pieces, in order, that are not in rows yet. */
  decided: Piece[];
  /** The time up to which the first of them is in rows already. */
  usedTo: number;
  /** The assignment under which the arc last burnt. */
  onEpoch: number;
  /** When it was last lit, as far as it is in rows, µs. */
  litAt: number;
}

export function startArc(arc: number): ArcState {
  return {
    arc, on: false, pending: null, coveredTo: null, part: null,
    watch: { lowCurrentSince: null, lowVoltageSince: null },
    undecided: [], held: 0, since: 0, decided: [], usedTo: Number.NEGATIVE_INFINITY, onEpoch: 0, litAt: Number.NEGATIVE_INFINITY,
  };
}

export function cloneArc(state: ArcState): ArcState {
  return {
    ...state, part: state.part === null ? null : clonePart(state.part), watch: { ...state.watch },
    undecided: state.undecided.map((piece) => ({ ...piece })), decided: state.decided.slice(),
  };
}

/** Adds the arc's next item, which ends the time for which the one before it holds. */
export function feedArc(state: ArcState, placed: PlacedItem, epoch: number, settings: WeldSettings): void {
  const before = state.pending;
  if (before !== null) {
    standUntil(state, before, placed.start, settings, placed.facts);
    const covered = state.coveredTo ?? placed.start;
    // A turn that begins the next run does not end an arc.
    const ends = Math.floor(before.epoch) !== Math.floor(epoch) || placed.broken || placed.start - covered > settings.runEndAfter;
    if (placed.start > covered) hole(state, covered, placed.start, epoch, ends, settings);
  }
  state.pending = { placed, epoch };
}

/** Turns the pending item into pieces; it holds until `until` at the latest. */
function standUntil(state: ArcState, pending: NonNullable<ArcState['pending']>, until: number, settings: WeldSettings, next: ItemFacts | null): void {
  const { placed, epoch } = pending;
  const { item } = placed;
  if (item.interval !== null) {
    state.part = spreadBlock(placed, until, epoch, state.part, state.watch, settings, (part) => { judgePart(state, part, settings); });
    state.coveredTo = Math.min(placed.end, until);
    return;
  }
  closePart(state, settings);
  const to = Math.min(placed.end, until);
  const current = valueAt(item.current, 0);
  const voltage = valueAt(item.voltage, 0);
  judge(state, {
    kind: 'off', epoch, from: placed.start, to, lit: false,
    current, voltage, rawVoltage: placed.raw === null ? Number.NaN : valueAt(placed.raw, 0), plateTemperature: item.plateTemperature === null ? Number.NaN : valueAt(item.plateTemperature, 0), item,
    part: null, facts: placed.facts, closing: to === until ? next : null,
  }, { current: Math.abs(current), voltage: Math.abs(voltage) }, settings);
  state.coveredTo = to;
}

function piecesOf(part: BlockPart): Piece {
  return {
    kind: 'off', epoch: part.epoch, from: part.from, to: part.to, lit: false,
    current: Number.NaN, voltage: Number.NaN, rawVoltage: Number.NaN, plateTemperature: Number.NaN, item: null,
    part, facts: part.facts, closing: null,
  };
}

/** Judges the open part of a row by what it contains, since a hole, a reading or the end follows. */
function closePart(state: ArcState, settings: WeldSettings): void {
  state.watch.lowCurrentSince = null;
  state.watch.lowVoltageSince = null;
  const part = state.part;
  if (part === null) return;
  state.part = null;
  judgePart(state, part, settings);
}

/** Judges the row of a block as a whole by its RMS, even where a new assignment begins within it. */
function judgePart(state: ArcState, last: BlockPart, settings: WeldSettings): void {
  const parts: BlockPart[] = [];
  for (let part: BlockPart | null = last; part !== null; part = part.before) parts.unshift(part);
  let time = 0;
  let currentSquared = 0;
  let voltageSquared = 0;
  for (const part of parts) {
    time += part.time;
    currentSquared += part.currentSquared;
    voltageSquared += part.voltageSquared;
  }
  // A rounding error in the square root of a constant value must not put the arc out.
  const rms = (squared: number): number => (time === 0 ? 0 : Math.sqrt(squared / time) * (1 + 1e-12));
  const judged = { current: rms(currentSquared), voltage: rms(voltageSquared) };
  for (const part of parts) judge(state, piecesOf(part.before === null ? part : { ...part, before: null }), judged, settings);
}

function judge(state: ArcState, piece: Piece, { current, voltage }: Pick<Piece, 'current' | 'voltage'>, settings: WeldSettings): void {
  const against = state.on ? current < settings.arcOffCurrent : current >= settings.arcOnCurrent && voltage >= settings.arcOnVoltage;
  if (!against) {
    release(state, state.on);
    decide(state, piece, state.on ? 'on' : 'off');
    return;
  }
  if (state.undecided.length === 0) {
    state.since = piece.from;
    state.held = 0;
  }
  state.undecided.push(piece);
  state.held += piece.to - piece.from;
  // Half a microsecond of tolerance for the ends of blocks, which are rounded to whole microseconds.
  if (state.held < (state.on ? settings.arcOffFor : settings.arcOnFor) - 0.5) return;
  if (state.on) {
    goOut(state, state.since);
  } else {
    state.on = true;
    const first = state.undecided[0];
    if (first !== undefined) first.lit = true;
    release(state, true);
  }
}

/** Decides the undecided pieces: they belong to the state that continues, and a hole in them is a data gap. */
function release(state: ArcState, on: boolean): void {
  for (const piece of state.undecided) {
    if (piece.kind !== 'gap') decide(state, piece, on ? 'on' : 'off');
    else if (on) state.decided.push(piece);
  }
  state.undecided = [];
  state.held = 0;
}

function decide(state: ArcState, piece: Piece, kind: 'on' | 'off'): void {
  piece.kind = kind;
  if (kind === 'on') state.onEpoch = piece.epoch;
  state.decided.push(piece);
}

function goOut(state: ArcState, at: number): void {
  state.on = false;
  state.decided.push(marker(at, state.onEpoch));
  release(state, false);
}

function marker(at: number, epoch: number): Piece {
  return { kind: 'out', epoch, from: at, to: at, lit: false, current: Number.NaN, voltage: Number.NaN, rawVoltage: Number.NaN, plateTemperature: Number.NaN, item: null, part: null, facts: null, closing: null };
}

/** Nothing covers `[from, to)`: it is a data gap if the arc turns out to have burnt on, or the arc's end if it cannot have. */
function hole(state: ArcState, from: number, to: number, epoch: number, ends: boolean, settings: WeldSettings): void {
  closePart(state, settings);
  if (!state.on) {
    release(state, false);
    return;
  }
  if (ends) {
    endArc(state, from, settings);
    return;
  }
  if (state.undecided.length === 0) {
    state.since = from;
    state.held = 0;
  }
  state.undecided.push({ ...marker(from, epoch), kind: 'gap', to });
}

/** Ends the arc at `at`, when its values ended. */
export function endArc(state: ArcState, at: number, settings: WeldSettings): void {
  closePart(state, settings);
  if (!state.on) {
    release(state, false);
    return;
  }
  release(state, true);
  goOut(state, at);
}

/**
 * Ends a silent arc when the carriage is past the point where the arc's next item could continue it (a new assignment, a clock that did not continue,
 * a hole longer than a run may have): its last item holds as long as it may, and then the arc is out.
 */
export function endSilentArc(state: ArcState, now: number, settings: WeldSettings): void {
  const pending = state.pending;
  if (pending === null) return;
  standUntil(state, pending, now, settings, null);
  endArc(state, state.coveredTo ?? now, settings);
  state.pending = null;
}

/** Brings the arc to the present: nothing follows the newest item, and undecided pieces keep the state before them. */
export function settleArc(state: ArcState, settings: WeldSettings): void {
  const pending = state.pending;
  if (pending !== null) {
    standUntil(state, pending, pending.placed.item.interval === null ? pending.placed.start : pending.placed.end, settings, null);
    state.pending = null;
  }
  closePart(state, settings);
  // A hole with nothing after it is not a gap yet.
  while (state.undecided.at(-1)?.kind === 'gap') state.undecided.pop();
  release(state, state.on);
}

/** No later item of this arc can lie before this time, µs. */
export function arcKnownTo(state: ArcState): number {
  return state.undecided[0]?.from ?? state.part?.from ?? state.pending?.placed.start ?? Number.POSITIVE_INFINITY;
}
