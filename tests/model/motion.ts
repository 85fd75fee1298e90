import { valueAt } from '../../shared/weld/items/item.js';
import type { PlacedItem } from './held-values.js';
import type { Span } from './plain-types.js';

/** A stretch in which the carriage moves evenly; rate in mm/µs, speed as sent in mm/min (NaN if unknown). */
export interface Move extends Span {
  readonly rate: number;
  readonly speed: number;
  readonly known: boolean;
  readonly measured: boolean;
  /** Signed and absolute travel at `from`. */
  readonly position: number;
  readonly distance: number;
}

interface Sent {
  readonly time: number;
  readonly value: number;
}

const perMinute = 60_000_000;

function sentValues(items: readonly PlacedItem[], field: 'travelSpeed' | 'travel'): (Sent & { fresh: boolean })[] {
  const sent = items.flatMap((entry) => {
    const values = entry.item[field];
    if (values === null) return [];
    const count = typeof values === 'number' ? 1 : values.length;
    return Array.from({ length: count }, (_, k) => ({
      time: entry.placed + k * (entry.item.interval ?? 0) * 1000,
      value: valueAt(values, k),
      fresh: entry.broken,
    }));
  });
  return sent.sort((a, b) => a.time - b.time);
}

/** A stretch between two encoder values; before a jump the first value applies. */
interface EncoderMove extends Span {
  readonly rate: number;
  readonly sentFrom: number;
  readonly sentTo: number;
}

/** Encoder values as stretches of constant speed: jitter under 1 mm back and forth is ignored, and a jump starts a new one. */
function encoderMoves(travel: readonly (Sent & { fresh: boolean })[], speeds: readonly Sent[]): EncoderMove[] {
  const moves: EncoderMove[] = [];
  let extreme = travel[0]?.value ?? 0;
  let heading = 0;
  travel.forEach((here, i) => {
    const before = travel[i - 1];
    if (before === undefined || here.time <= before.time) return;
    const time = here.time - before.time;
    const told = speeds.findLast((speed) => speed.time <= before.time)?.value;
    const usual = told === undefined ? Math.abs(moves.at(-1)?.rate ?? 0) * time : (Math.abs(told) / perMinute) * time;
    let advance = here.value - extreme;
    let sentTo = here.value;
    if (here.fresh || Math.abs(here.value - before.value) > usual + 50) {
      advance = 0;
      sentTo = before.value;
      extreme = here.value;
      heading = 0;
    } else if (heading !== 0 && Math.sign(advance) === -heading && Math.abs(advance) < 1) advance = 0;
    else if (advance !== 0) {
      heading = Math.sign(advance);
      extreme = here.value;
    }
    moves.push({ from: before.time, to: here.time, rate: advance / time, sentFrom: before.value, sentTo });
  });
  return moves;
}

/** The encoder value at a moment as it was sent, interpolated between two values; null if none was sent. */
export function sentTravel(items: readonly PlacedItem[]): (time: number) => number | null {
  const sent = sentValues(items, 'travel');
  const moves = encoderMoves(sent, sentValues(items, 'travelSpeed'));
  return (time) => {
    const move = moves.find(({ from, to }) => from <= time && time < to);
    if (move !== undefined) return move.sentFrom + ((move.sentTo - move.sentFrom) * (time - move.from)) / (move.to - move.from);
    return sent.findLast((own) => own.time === time)?.value ?? null;
  };
}

/**
 * Where the carriage is at every moment. `alive` are the spans in which any arc sends or is in a data gap: elsewhere the last speed is not used to
 * make up travel.
 */
export function traceMotion(items: readonly PlacedItem[], alive: readonly Span[]): Move[] {
  const speeds = sentValues(items, 'travelSpeed');
  const encoder = encoderMoves(sentValues(items, 'travel'), speeds);
  const times = [...alive, ...encoder].flatMap((span) => [span.from, span.to]).concat(speeds.map((speed) => speed.time));
  const borders = [...new Set(times)].sort((a, b) => a - b);
  const moves: Move[] = [];
  let position = 0;
  let distance = 0;
  let s = -1;
  let e = 0;
  let a = 0;
  borders.slice(0, -1).forEach((from, i) => {
    const to = borders[i + 1] ?? from;
    while ((speeds[s + 1]?.time ?? Number.POSITIVE_INFINITY) <= from) s += 1;
    while ((encoder[e]?.to ?? Number.POSITIVE_INFINITY) <= from) e += 1;
    while ((alive[a]?.to ?? Number.POSITIVE_INFINITY) <= from) a += 1;
    const told = speeds[s]?.value;
    const measured = encoder[e];
    let rate = 0;
    let known = true;
    const onEncoder = measured !== undefined && measured.from <= from;
    if (onEncoder) rate = measured.rate;
    else if (told === undefined) known = false;
    else if ((alive[a]?.from ?? Number.POSITIVE_INFINITY) <= from) rate = told / perMinute;
    const speed = told ?? (known ? rate * perMinute : Number.NaN);
    moves.push({ from, to, rate, speed, known, measured: onEncoder, position, distance });
    position += rate * (to - from);
    distance += Math.abs(rate) * (to - from);
  });
  return moves;
}

function moveAt(moves: readonly Move[], time: number): Move | undefined {
  let low = 0;
  let high = moves.length - 1;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if ((moves[middle]?.from ?? Number.POSITIVE_INFINITY) <= time) low = middle;
    else high = middle - 1;
  }
  return moves[low];
}

/** Signed and absolute travel at a moment. */
export function placeAt(moves: readonly Move[], time: number): { position: number; distance: number; measured: boolean } {
  const move = moveAt(moves, time);
  if (move === undefined) return { position: 0, distance: 0, measured: false };
  const passed = Math.max(0, Math.min(time, move.to) - move.from);
  return { position: move.position + move.rate * passed, distance: move.distance + Math.abs(move.rate) * passed, measured: move.measured };
}

/** The first moment at which the absolute travel has reached `distance`, or infinity. */
export function whenTravelled(moves: readonly Move[], distance: number): number {
  for (const move of moves) {
    const reached = move.distance + Math.abs(move.rate) * (move.to - move.from);
    if (move.rate !== 0 && reached >= distance) return move.from + Math.max(0, distance - move.distance) / Math.abs(move.rate);
  }
  return Number.POSITIVE_INFINITY;
}
