import { toldAbsences, type Absence, type Absences, type ToldAbsences } from '../run/absence.js';
import type { AssignedArc, Assignment } from '../procedure/assignment.js';
import { mergedGaps, type DataGap } from '../run/run-state.js';
import type { RunSums } from '../run/run-sums.js';
import { columnOf, rowLength, runColumn } from '../rows/row.js';
import type { RowGroup } from '../rows/row-group.js';
import { isoTime, tidy } from '../run/run-figures.js';
import type { PresentRates } from './present-rates.js';
import { meltedLength, wireMass } from '../run/wire-mass.js';

/** The wire that one arc needs to the end: m of each of its wires, kg of all of them, and the mm of seam that remain when it runs out too soon. */
export interface WireOutlook {
  readonly arc: number;
  readonly lengthNeeded: number | null;
  readonly massNeeded: number | null;
  readonly massLeft: number | null;
  /** 0 where there is enough. */
  readonly endsShortBy: number | null;
}

/** What is still to come in a run that is being welded: the mm to go, the time at which it ends, and the wire for it. */
export interface Outlook extends ToldAbsences {
  readonly lengthToGo: number | null;
  readonly endsAt: string | null;
  readonly wire: readonly WireOutlook[];
}

export interface PresentInput {
  readonly assignment: Assignment | null;
  readonly sums: RunSums;
  /** Place of the carriage, mm from the run's start. */
  readonly travelled: number;
  readonly gaps: readonly DataGap[];
  readonly newest: RowGroup | null;
  readonly rates: PresentRates;
}

/**
 * The length of a run from start to end, mm: the seam with both tabs, as the arc has to pass them; one full turn for a closed seam whose length is
 * not given. Null where it is not known.
 */
export function runLength(assignment: Assignment | null): number | null {
  const { seamLength, runOn = 0, runOff = 0, motion, diameter } = assignment ?? {};
  if (seamLength !== undefined) return runOn + seamLength + runOff;
  return motion === 'work' && diameter !== undefined ? Math.PI * diameter : null;
}

/**
 * The outlook of a run from what it does at present: speed and feed of the last 10 s (common practice, no source). The way to go is what lies between
 * arc 1 and the end of the run-off tab, whichever way the carriage counts.
 */
export function presentOutlook(input: PresentInput): Outlook {
  const { assignment, sums, travelled, newest } = input;
  const reasons: Absences = {};
  const whole = runLength(assignment);
  const moving = sums.speedTime > 0;
  const lengthToGo = whole === null || !moving ? null : Math.max(0, whole - Math.abs(travelled));
  if (lengthToGo === null) reasons['lengthToGo'] = { code: whole === null ? 'noSeamLength' : 'noTravel' };
  const speed = speedAhead(input);
  let endsAt: string | null = null;
  if (lengthToGo === null) reasons['endsAt'] = reasons['lengthToGo'] ?? { code: 'noTravel' };
  else if (typeof speed !== 'number') reasons['endsAt'] = speed;
  else if (lengthToGo === 0) reasons['endsAt'] = { code: 'atEnd' };
  else endsAt = isoTime(((newest === null ? 0 : columnOf(newest.rows, newest.at, runColumn.index)) + 1) * rowLength + (lengthToGo / speed) * 60e6);
  const arcs = Object.keys(sums.arcs).map(Number).sort((a, b) => a - b);
  const wire = arcs.map((arc) => wireOutlook(input, arc, lengthToGo, speed, reasons));
  return tidy({ lengthToGo, endsAt, wire, ...toldAbsences(reasons) });
}

/** Speed towards the end, mm/min, or why there is none. */
function speedAhead({ newest, rates, travelled }: PresentInput): number | Absence {
  if (newest === null || (columnOf(newest.rows, newest.at, runColumn.on) === 0 && columnOf(newest.rows, newest.at, runColumn.gap) === 0)) return { code: 'arcOff' };
  const { speed } = rates;
  if (speed === null) return { code: 'noTravel' };
  if (rates.standing) return { code: 'standing' };
  return speed * travelled < 0 ? { code: 'goingBack' } : Math.abs(speed);
}

function wireOutlook({ assignment, sums, gaps, rates }: PresentInput, arc: number, lengthToGo: number | null, speed: number | Absence, reasons: Absences): WireOutlook {
  const name = `wire[${arc}]`;
  const assigned: Partial<AssignedArc> = assignment?.arcs?.find((own) => own.arc === arc) ?? {};
  const { offsets, wires } = sums.parameters;
  const diameter = assigned.wireDiameter ?? wires[arc]?.diameter ?? null;
  const massPerMetre = diameter === null ? null : wireMass(diameter, wires[arc]?.count ?? 1);
  const feed = rates.feed.get(arc) ?? null;
  // The arc is behind the carriage by its offset, and has to come to the same end.
  const toGo = lengthToGo === null ? null : lengthToGo + (lengthToGo > 0 ? (offsets[arc] ?? 0) : 0);
  const unknownLength = toGo === null ? (reasons['lengthToGo'] ?? null) : typeof speed === 'number' ? noFeedOf(feed) : speed;
  const lengthNeeded = unknownLength !== null || toGo === null || feed === null || typeof speed !== 'number' ? null : (feed * toGo) / speed;
  if (unknownLength !== null) reasons[`${name}.lengthNeeded`] = unknownLength;
  const massNeeded = lengthNeeded === null || massPerMetre === null ? null : lengthNeeded * massPerMetre;
  const unknownNeed = massNeeded === null ? (unknownLength ?? { code: 'noDiameter' as const }) : null;
  if (unknownNeed !== null) reasons[`${name}.massNeeded`] = unknownNeed;
  const melted = meltedLength(sums.arcs[arc], mergedGaps(gaps));
  const spool = spoolNow(assignment, arc, assigned.spoolMass ?? null);
  const massLeft = massPerMetre === null || melted === null || spool.mass === null ? null : Math.max(0, spool.mass - Math.max(0, melted - spool.melted) * massPerMetre);
  const unknownRest = massLeft === null ? restUnknown(spool, massPerMetre) : null;
  if (unknownRest !== null) reasons[`${name}.massLeft`] = unknownRest;
  const endsShortBy = massNeeded === null || massLeft === null || toGo === null ? null : massNeeded > massLeft ? toGo * (1 - massLeft / massNeeded) : 0;
  const unknownEnd = unknownRest ?? unknownNeed;
  if (unknownEnd !== null) reasons[`${name}.endsShortBy`] = unknownEnd;
  return { arc, lengthNeeded, massNeeded, massLeft, endsShortBy };
}

function noFeedOf(feed: number | null): Absence | null {
  if (feed === null) return { code: 'notSentLately', quantity: 'wireFeedSpeed' };
  return feed <= 0 ? { code: 'noFeed' } : null;
}

function restUnknown(spool: Spool, massPerMetre: number | null): Absence {
  if (spool.mass === null) return spool.reason;
  return massPerMetre === null ? { code: 'noDiameter' } : { code: 'notSent', quantity: 'wireFeedSpeed' };
}

interface Spool {
  readonly mass: number | null;
  readonly melted: number;
  /** Why its mass is not known, if it is not. */
  readonly reason: Absence;
}

/** The kg on the present spool when it was put on, and the m of wire that the run had melted by then. */
function spoolNow(assignment: Assignment | null, arc: number, spoolMass: number | null): Spool {
  const changed = assignment?.materials?.findLast((own) => own.kind === 'spoolChanged' && own.arc === arc);
  if (changed === undefined) return { mass: spoolMass, melted: 0, reason: { code: 'noSpoolMass' } };
  return { mass: changed.mass, melted: changed.melted ?? 0, reason: { code: 'spoolChanged' } };
}
