import { passing, type SeamHeat } from './heat-along-seam.js';
import { joinArcs } from './join-arcs.js';
import { arcColumn, arcRowFlags, columnOf, hasFlag, rowLength } from '../rows/row.js';
import { arcNumber, arcsEnd, arcStride, firstArc } from '../rows/row-group.js';
import type { Zone } from '../procedure/zone.js';

interface Stretch {
  readonly from: number;
  to: number;
}

/** A stretch that is not judged along the seam: not every arc of the run passed there in one passage. */
export interface UnjudgedStretch extends Stretch {
  zone: Zone;
  /** Arcs of the run that did not pass there. */
  missing: readonly number[];
  /** Arcs that had gone out before it: if one is lit again, the stretch in between is a restart. */
  readonly out: readonly number[];
}

/** The arcs that a run has had so far, and the length that could be judged along the seam by the heat of them all. */
export interface SeamPassages {
  /** The arcs that have burnt so far, and those of them that burnt before the current passage. */
  arcs: number[];
  before: readonly number[];
  /** The stretches that were judged with these arcs, µs; and their length, mm, with the parts that were outside and not sent. */
  judged: Stretch[];
  length: number;
  outside: number;
  notProven: number;
  /** The stretches that were not judged, and their length, mm. */
  unjudged: UnjudgedStretch[];
  excluded: number;
}

export function startSeamPassages(): SeamPassages {
  return { arcs: [], before: [], judged: [], length: 0, outside: 0, notProven: 0, unjudged: [], excluded: 0 };
}

export function cloneSeamPassages(own: SeamPassages): SeamPassages {
  return {
    ...own, arcs: own.arcs.slice(), judged: own.judged.map((stretch) => ({ ...stretch })),
    unjudged: own.unjudged.map((stretch) => ({ ...stretch })),
  };
}

/** Adds the arcs that burn in a row, and returns those that never burnt before: with a new arc, nothing so far was passed by all arcs. */
export function addArcs(passages: SeamPassages, rows: Float64Array, at: number): readonly number[] {
  const added: number[] = [];
  const { arcs } = passages;
  const end = arcsEnd(rows, at);
  for (let own = firstArc(at); own < end; own += arcStride) {
    const arc = arcNumber(rows, own);
    if (!(columnOf(rows, own, arcColumn.on) > 0) || arcs.includes(arc)) continue;
    if (arcs.length > 0) added.push(arc);
    arcs.push(arc);
  }
  return added;
}

/** Where an arc is lit again in a row, the stretch that it did not pass since it went out becomes a restart. */
export function markRestarts(passages: SeamPassages, rows: Float64Array, at: number): void {
  const end = arcsEnd(rows, at);
  for (let own = firstArc(at); own < end; own += arcStride) {
    if (!(columnOf(rows, own, arcColumn.on) > 0) || !hasFlag(rows, own, arcRowFlags.lit)) continue;
    for (const stretch of passages.unjudged) if (stretch.out.includes(arcNumber(rows, own))) stretch.zone = 'restart';
  }
}

/** Takes back all that was judged so far: arcs begin that did not pass there. */
export function takeBackJudged(own: SeamPassages, added: readonly number[]): void {
  for (const stretch of own.unjudged) stretch.missing = joinArcs(stretch.missing, added);
  for (const stretch of own.judged) addUnjudged(own, stretch, { zone: 'ignition', missing: added, out: [] });
  own.excluded += own.length;
  own.judged = [];
  own.length = own.outside = own.notProven = 0;
}

/** The reason why a stretch is not judged. */
export type Unpassed = Pick<UnjudgedStretch, 'zone' | 'missing' | 'out'>;

/**
 * Why nothing is judged along the seam at a place, or null if it is: `restart` if an arc that is missing there had burnt before in the run and burns again,
 * else `ignition` if it had not begun, or `crater` if it was out for good as far as is known.
 */
export function unpassed(own: SeamPassages, heat: SeamHeat, place: number): Unpassed | null {
  if (own.arcs.length < 2) return null;
  const missing = own.arcs.map((arc) => ({ arc, how: passing(heat, arc, place) })).filter(({ how }) => how !== 'passed');
  if (missing.length === 0) return null;
  const again = missing.some(({ arc, how }) => how === 'litAgainLater' || (how === 'beginsLater' && own.before.includes(arc)));
  const begins = missing.some(({ how }) => how === 'beginsLater');
  const out = missing.filter(({ how }) => how === 'out' || how === 'none').map(({ arc }) => arc);
  return { zone: again ? 'restart' : begins ? 'ignition' : 'crater', missing: missing.map(({ arc }) => arc), out };
}

/** Records a row that was judged. */
export function noteJudged(own: SeamPassages, from: number, to: number): void {
  if (!goesOn(own.judged.at(-1), from, to)) own.judged.push({ from, to });
}

export function addUnjudged(own: SeamPassages, { from, to }: Stretch, why: Unpassed): void {
  const last = own.unjudged.at(-1);
  const same = last?.zone === why.zone && String(last.missing) === String(why.missing) && String(last.out) === String(why.out);
  if (!same || !goesOn(last, from, to)) own.unjudged.push({ from, to, ...why });
}

/** Rows that follow one another form one stretch: `last` is extended if these do. */
function goesOn(last: Stretch | undefined, from: number, to: number): boolean {
  if (last === undefined || from < last.from || from - last.to >= rowLength) return false;
  last.to = Math.max(last.to, to);
  return true;
}
