import { dropFirst } from '../items/drop-first.js';
import { valueAt, type Values } from '../items/item.js';
import { microseconds, type PlacedItem } from '../items/device-clock.js';

/** Changes of `travel` back and forth by less than this do not move the carriage, mm. */
const jitter = 1;
/** A difference of `travel` this far beyond speed × time is a jump to a new zero, mm. */
const jumpBeyond = 50;

/** The carriage's motion over one stretch of corrected time. */
export interface MotionSegment {
  readonly from: number;
  readonly to: number;
  /** Signed velocity, mm/s; 0 where no speed is known. */
  readonly velocity: number;
  /** Speed as sent, or derived from `travel`, mm/min; NaN where no speed is known. */
  readonly speed: number;
  /** No value held here, so the last known speed was carried on. This counts only through a data gap. */
  readonly estimated: boolean;
  readonly jump: boolean;
  /** `travel` as it was sent, at the beginning and the end of the segment, mm; NaN where none was sent. Before a jump it does not change. */
  readonly sentFrom: number;
  readonly sentTo: number;
}

/** A speed or a travel that was sent, and the time from which it holds. */
interface Knot {
  readonly at: number;
  readonly arc: number;
  readonly speed: number | null;
  readonly travel: number | null;
  /** The time until which the values of its item hold. */
  readonly end: number;
}

/** Motion belongs to the carriage: the newest speed or travel that any of its arcs sent. */
export interface Motion {
  /** Values that were sent and are not in the segments yet, in order of time. */
  knots: Knot[];
  segments: MotionSegment[];
  /** The segments reach to this time; null before the first item. */
  knownTo: number | null;
  /** The newest value holds until this time. */
  cover: number;
  /** Newest `travelSpeed`, mm/min. */
  speed: number | null;
  /** The newest `travel`, as it was `sent`; `position` is the furthest place reached in `direction`. */
  travel: { readonly time: number; readonly sent: number; readonly position: number; readonly direction: number } | null;
  /** Time since the newest `travel` in which nothing was sent, µs. */
  silent: number;
  /** Whether the place comes from `travel` rather than from speed. */
  confirmed: boolean;
  /** Velocity of the newest stretch derived from `travel`, mm/s. */
  derived: number;
}

export function startMotion(): Motion {
  return { knots: [], segments: [], knownTo: null, cover: 0, speed: null, travel: null, silent: 0, confirmed: false, derived: 0 };
}

export function cloneMotion(motion: Motion): Motion {
  return { ...motion, knots: motion.knots.slice(), segments: motion.segments.slice() };
}

/** Records what an item says about the motion; it counts once `advanceMotion` has reached its time. */
export function feedMotion(motion: Motion, placed: PlacedItem): void {
  const { item, start, end } = placed;
  const { arc } = item;
  // This item cuts off what the arc sent before for later times.
  for (const knot of motion.knots) {
    if (knot.arc !== arc || knot.at < start) continue;
    motion.knots = motion.knots.filter((own) => own.arc !== arc || own.at < start);
    break;
  }
  if (typeof item.travel === 'object' && item.travel !== null || typeof item.travelSpeed === 'object' && item.travelSpeed !== null) {
    const interval = microseconds(item.interval ?? 0);
    for (let k = 0; k < item.count; k += 1) {
      addKnot(motion, { at: Math.round(start + k * interval), arc, speed: valueOr(item.travelSpeed, k), travel: valueOr(item.travel, k), end });
    }
  } else {
    addKnot(motion, { at: start, arc, speed: item.travelSpeed, travel: item.travel, end });
  }
}

function addKnot(motion: Motion, knot: Knot): void {
  let place = motion.knots.length;
  while (place > 0 && (motion.knots[place - 1]?.at ?? 0) > knot.at) place -= 1;
  if (place === motion.knots.length) motion.knots.push(knot);
  else motion.knots.splice(place, 0, knot);
}

/** Turns everything that was sent for times up to `limit` into motion; nothing can arrive any more for times before that. */
export function advanceMotion(motion: Motion, limit: number, maxHold: number): void {
  let used = 0;
  for (const knot of motion.knots) {
    if (knot.at > limit) break;
    // Several arcs may share a message, so an arc that never sends `travel` cannot show that it has ended.
    step(motion, knot, knot.travel === null && travelSentAt(motion, knot.at), maxHold);
    used += 1;
  }
  dropFirst(motion.knots, used);
}

function travelSentAt({ knots }: Motion, at: number): boolean {
  for (const own of knots) if (own.at === at && own.travel !== null) return true;
  return false;
}

function valueOr(values: Values | null, k: number): number | null {
  return values === null ? null : valueAt(values, k);
}

function step(motion: Motion, { at, speed, travel, end }: Knot, travelFollows: boolean, maxHold: number): void {
  if (motion.knownTo === null) motion.knownTo = at;
  if (motion.travel !== null) {
    if (at > motion.cover) motion.silent += at - motion.cover;
    if (travel !== null) byTravel(motion, Math.max(at, motion.travel.time), travel);
    else if (!travelFollows && at - motion.travel.time - motion.silent > maxHold) {
      // `travel` is no longer sent: speed takes over from where it ended.
      motion.travel = null;
      motion.silent = 0;
      bySpeed(motion, at);
    }
  } else {
    bySpeed(motion, at);
    if (travel !== null) motion.travel = { time: Math.max(at, motion.knownTo), sent: travel, position: travel, direction: 0 };
  }
  motion.confirmed = motion.travel !== null;
  if (speed !== null) motion.speed = speed;
  motion.cover = Math.max(motion.cover, end);
}

/** Carries the newest speed on to `to`; motion after the newest value ceases to hold is estimated. `sent` is the `travel` at the beginning. */
function bySpeed(motion: Motion, to: number, sent = Number.NaN): void {
  const from = motion.knownTo ?? to;
  if (to <= from) return;
  const speed = motion.speed ?? Number.NaN;
  const velocity = motion.speed === null ? motion.derived : motion.speed / 60;
  const shown = motion.speed === null && motion.derived !== 0 ? motion.derived * 60 : speed;
  const proven = Math.min(to, Math.max(from, motion.cover));
  const sentTo = sent + velocity * ((proven - from) / 1e6);
  if (proven > from) motion.segments.push({ from, to: proven, velocity, speed: shown, estimated: false, jump: false, sentFrom: sent, sentTo });
  if (to > proven) motion.segments.push({ from: proven, to, velocity, speed: shown, estimated: true, jump: false, sentFrom: Number.NaN, sentTo: Number.NaN });
  motion.knownTo = to;
}

function byTravel(motion: Motion, at: number, value: number): void {
  const last = motion.travel;
  if (last === null || at <= last.time) return;
  const seconds = (at - last.time) / 1e6;
  const expected = Math.abs(motion.speed === null ? motion.derived : motion.speed / 60) * seconds;
  const difference = value - last.position;
  const jump = Math.abs(value - last.sent) > expected + jumpBeyond;
  let moved = 0;
  let { position, direction } = last;
  if (jump) {
    position = value;
    direction = 0;
  } else if (direction === 0 || difference * direction >= 0 || Math.abs(difference) >= jitter) {
    moved = difference;
    position = value;
    if (difference !== 0) direction = Math.sign(difference);
  }
  const velocity = moved / seconds;
  motion.segments.push({
    from: motion.knownTo ?? last.time, to: at, velocity, speed: motion.speed ?? velocity * 60, estimated: false, jump, sentFrom: last.sent,
    sentTo: jump ? last.sent : value,
  });
  if (!jump) motion.derived = velocity;
  motion.knownTo = at;
  motion.silent = 0;
  motion.travel = { time: at, sent: value, position, direction };
}

/** Carries the motion on to `to`, for a look at the present. */
export function extendMotion(motion: Motion, to: number): void {
  const sent = motion.travel?.sent;
  if (motion.travel !== null) {
    motion.cover = Math.max(motion.cover, to);
    motion.travel = null;
  }
  bySpeed(motion, to, sent);
}

/** `travel` as it was sent, at a time that the motion reaches, mm, interpolated between two values; NaN where none was sent. */
export function sentTravelAt({ segments, travel, knownTo }: Motion, time: number): number {
  for (const { from, to, sentFrom, sentTo } of segments) {
    if (time >= from && time < to) return sentFrom + (sentTo - sentFrom) * ((time - from) / (to - from));
  }
  if (time !== knownTo) return Number.NaN;
  return travel?.sent ?? segments.at(-1)?.sentTo ?? Number.NaN;
}

/** Removes the segments before `time`. */
export function dropMotionBefore(motion: Motion, time: number): void {
  let count = 0;
  for (const segment of motion.segments) {
    if (segment.to > time) break;
    count += 1;
  }
  dropFirst(motion.segments, count);
}

/** Motion summed over a stretch. */
export interface Travel {
  /** Signed and absolute travel, mm. */
  signed: number;
  absolute: number;
  /** Time with a known speed, s; integrals of the speed and its square over it, mm/min·s and (mm/min)²·s; least and greatest speed. */
  time: number;
  speed: number;
  speedSquared: number;
  min: number;
  max: number;
  estimated: boolean;
  jump: boolean;
}

export function noTravel(): Travel {
  return { signed: 0, absolute: 0, time: 0, speed: 0, speedSquared: 0, min: Infinity, max: -Infinity, estimated: false, jump: false };
}

/** Adds the motion of `[from, to)` to `sum`, with estimated stretches only if requested. */
export function addTravel(sum: Travel, motion: Motion, from: number, to: number, withEstimated: boolean): void {
  for (const segment of motion.segments) {
    if (segment.from >= to) break;
    if (segment.to <= from || (segment.estimated && !withEstimated)) continue;
    const dt = (Math.min(segment.to, to) - Math.max(segment.from, from)) / 1e6;
    const moved = segment.velocity * dt;
    sum.signed += moved;
    sum.absolute += Math.abs(segment.velocity) * dt;
    if (!Number.isNaN(segment.speed)) {
      sum.time += dt;
      sum.speed += segment.speed * dt;
      sum.speedSquared += segment.speed * segment.speed * dt;
      if (segment.speed < sum.min) sum.min = segment.speed;
      if (segment.speed > sum.max) sum.max = segment.speed;
    }
    if (segment.estimated) sum.estimated = true;
    if (segment.jump) sum.jump = true;
  }
}

/** Signed motion of `[from, to)`, mm. */
export function signedTravel(motion: Motion, from: number, to: number, withEstimated: boolean): number {
  const travel = noTravel();
  addTravel(travel, motion, from, to, withEstimated);
  return travel.signed;
}
