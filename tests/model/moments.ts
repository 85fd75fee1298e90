import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { placeAt, whenTravelled, type Move } from './motion.js';
import type { Burn, PlainProcedure, Span } from './plain-types.js';
import type { RunParts } from './split-runs.js';

/** A stretch of a run in which nothing changes: which arcs burn, which are covered, the zone, the speed. */
export interface Moment extends Span {
  /** Arcs that burn and send. */
  readonly covered: readonly number[];
  readonly inGap: boolean;
  readonly weld: boolean;
  readonly distance: number;
  readonly speed: number;
  readonly known: boolean;
}

/** Where the ignition of a burn ends and where its crater begins. */
function zoneBorders(burn: Burn, moves: readonly Move[], procedure: PlainProcedure): { ignitionEnd: number; craterStart: number } {
  let ignitionEnd = burn.from;
  if (burn.lit) {
    const byTime = burn.from + procedure.ignitionTime * 1_000_000;
    const known = moves.some((move) => move.known && move.from <= burn.from && move.to > burn.from);
    const byLength = known ? whenTravelled(moves, placeAt(moves, burn.from).distance + procedure.ignitionLength) : byTime;
    ignitionEnd = Math.max(byTime, byLength);
  }
  return { ignitionEnd, craterStart: burn.out ? burn.to - procedure.craterTime * 1_000_000 : burn.to };
}

/** The run-relative travel at which an arc leaves the run-on tab, and at which it reaches the run-off tab or its own start. */
function tabBorders(assignment: Assignment | null, offset: number): { weldFrom: number; weldTo: number } {
  const runOn = assignment?.runOn ?? 0;
  const weldFrom = assignment?.runOn === undefined || runOn === 0 ? Number.NEGATIVE_INFINITY : runOn + offset;
  const turn = assignment?.motion === 'work' && assignment.diameter !== undefined ? Math.PI * assignment.diameter : Number.POSITIVE_INFINITY;
  const length = Math.min(assignment?.seamLength ?? Number.POSITIVE_INFINITY, turn);
  return { weldFrom, weldTo: runOn + length + offset };
}

/** Moments at which travel passes one of the places, within the moves. */
function crossings(moves: readonly Move[], places: readonly number[]): number[] {
  return moves.flatMap((move) => {
    if (move.rate === 0) return [];
    const at = places.map((place) => move.from + (place - move.position) / move.rate);
    return at.filter((time) => time > move.from && time < move.to);
  });
}

export function runMoments(run: RunParts, moves: readonly Move[], start: number, procedure: PlainProcedure): Moment[] {
  const origin = placeAt(moves, start).position;
  const end = Math.max(...run.burns.map((burn) => burn.to));
  const own = moves.filter((move) => move.to > start && move.from < end);
  const burns = run.burns.map((burn) => ({
    ...burn,
    ...zoneBorders(burn, moves, procedure),
    ...tabBorders(run.assignment, procedure.offsets.get(burn.arc) ?? 0),
  }));
  const places = burns.flatMap((burn) => [burn.weldFrom + origin, burn.weldTo + origin]).filter(Number.isFinite);
  const times = [
    ...burns.flatMap((burn) => [burn.from, burn.to, burn.ignitionEnd, burn.craterStart]),
    ...run.gaps.flatMap((gap) => [gap.from, gap.to]),
    ...own.flatMap((move) => [move.from, move.to]),
    ...crossings(own, places),
  ].filter((time) => time >= start && time <= end);
  const borders = [...new Set(times)].sort((a, b) => a - b);
  const moments: Moment[] = [];
  let m = 0;
  borders.slice(0, -1).forEach((from, i) => {
    const to = borders[i + 1] ?? from;
    const middle = (from + to) / 2;
    const burning = burns.filter((burn) => burn.from <= middle && burn.to > middle);
    if (burning.length === 0) return;
    const gapped = run.gaps.filter((gap) => gap.from <= middle && gap.to > middle).map((gap) => gap.arc);
    while ((own[m]?.to ?? Number.POSITIVE_INFINITY) <= middle) m += 1;
    const move = own[m];
    const place = move === undefined ? 0 : move.position + move.rate * (middle - move.from) - origin;
    const weld = burning.every(
      (burn) => middle > burn.ignitionEnd && middle < burn.craterStart && place > burn.weldFrom && place < burn.weldTo,
    );
    moments.push({
      from,
      to,
      covered: burning.map((burn) => burn.arc).filter((arc) => !gapped.includes(arc)),
      inGap: gapped.length > 0,
      weld,
      distance: move === undefined ? 0 : Math.abs(move.rate) * (to - from),
      speed: move?.speed ?? Number.NaN,
      known: move?.known ?? false,
    });
  });
  return moments;
}
