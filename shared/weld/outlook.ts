import type { AssignedArc, Assignment } from './assignment.js';
import type { DataGap } from './run-state.js';
import { mergedGaps } from './run-state.js';
import type { RunSums } from './run-sums.js';
import type { RunRow, RunRowGroup } from './row.js';
import { rowLength } from './row.js';
import type { Absent } from './run-figures.js';
import { isoTime, tidy } from './run-figures.js';
import type { PresentRates } from './present-rates.js';
import { presentRates } from './present-rates.js';
import { meltedLength, wireMass } from './wire-mass.js';

/** Wire that one arc needs to the end: m of each of its wires, kg of all of them, and mm of seam that are left when it ends too soon. */
export interface WireOutlook {
  readonly arc: number;
  readonly lengthNeeded: number | null;
  readonly massNeeded: number | null;
  readonly massLeft: number | null;
  /** 0 where there is enough. */
  readonly endsShortBy: number | null;
}

/** What is still to come of a run that is being welded: mm, the time at which it ends, and the wire for it. */
export interface Outlook {
  readonly lengthToGo: number | null;
  readonly endsAt: string | null;
  readonly wire: readonly WireOutlook[];
  readonly absent: Absent;
}

export interface PresentInput {
  /** The assignment that the run belongs to. */
  readonly assignment: Assignment | null;
  readonly sums: RunSums;
  /** Place of the carriage, mm from the run's start. */
  readonly travelled: number;
  readonly gaps: readonly DataGap[];
  readonly newest: RunRow | null;
  readonly rates: PresentRates;
}

export interface OutlookInput extends Omit<PresentInput, 'newest' | 'rates'> {
  /** The newest rows of the run in order, at least the last 10 s. */
  readonly rows: readonly RunRowGroup[];
}

const noLength = 'the assignment names no seamLength';
const noTravel = 'neither travelSpeed nor travel was sent';

/**
 * The way from start to end of a run, mm: the seam with both tabs, as the arc has to pass them; of a closed seam whose length is not
 * named one full turn. Null where it is not known.
 */
export function runLength(assignment: Assignment | null): number | null {
  const { seamLength, runOn = 0, runOff = 0, motion, diameter } = assignment ?? {};
  if (seamLength !== undefined) return runOn + seamLength + runOff;
  return motion === 'work' && diameter !== undefined ? Math.PI * diameter : null;
}

/**
 * Outlook of a run by what it does at present: speed and feed of the last 10 s (common practice, no source). To go is what arc 1 has
 * before it to the end of the run-off tab; which way the carriage counts does not matter.
 */
export function outlook({ rows, ...input }: OutlookInput): Outlook {
  return presentOutlook({ ...input, newest: rows.at(-1)?.run ?? null, rates: presentRates(rows, Object.keys(input.sums.arcs).map(Number)) });
}

/** The same with the rates as they were taken a moment ago. */
export function presentOutlook(input: PresentInput): Outlook {
  const { assignment, sums, travelled, newest } = input;
  const absent: Absent = {};
  const whole = runLength(assignment);
  const moving = sums.speedTime > 0;
  const lengthToGo = whole === null || !moving ? null : Math.max(0, whole - Math.abs(travelled));
  if (lengthToGo === null) absent['lengthToGo'] = whole === null ? noLength : noTravel;
  const speed = speedAhead(input);
  let endsAt: string | null = null;
  if (lengthToGo === null) absent['endsAt'] = absent['lengthToGo'] ?? '';
  else if (typeof speed === 'string' || newest === null) absent['endsAt'] = typeof speed === 'string' ? speed : noTravel;
  else if (lengthToGo === 0) absent['endsAt'] = 'the length to weld has been travelled';
  else endsAt = isoTime((newest.index + 1) * rowLength + (lengthToGo / speed) * 60e6);
  const arcs = Object.keys(sums.arcs).map(Number).sort((a, b) => a - b);
  const wire = arcs.map((arc) => wireOutlook(input, arc, lengthToGo, speed, absent));
  return tidy({ lengthToGo, endsAt, wire, absent });
}

/** mm/min towards the end, or why there is none. */
function speedAhead({ newest, rates, travelled }: PresentInput): number | string {
  if (newest === null || (newest.on === 0 && newest.gap === 0)) return 'no arc burns';
  const { speed } = rates;
  if (speed === null) return noTravel;
  if (rates.standing) return 'the carriage stands';
  return speed * travelled < 0 ? 'the carriage goes back' : Math.abs(speed);
}

function wireOutlook({ assignment, sums, gaps, rates }: PresentInput, arc: number, lengthToGo: number | null, speed: number | string, absent: Absent): WireOutlook {
  const name = `wire[${arc}]`;
  const assigned: Partial<AssignedArc> = assignment?.arcs?.find((own) => own.arc === arc) ?? {};
  const { offsets, wires } = sums.parameters;
  const diameter = assigned.wireDiameter ?? wires[arc]?.diameter ?? null;
  const massPerMetre = diameter === null ? null : wireMass(diameter, wires[arc]?.count ?? 1);
  const feed = rates.feed.get(arc) ?? null;
  // The arc's own place is behind that of the carriage by its offset, and it has to come to the same end.
  const toGo = lengthToGo === null ? null : lengthToGo + (lengthToGo > 0 ? (offsets[arc] ?? 0) : 0);
  let lengthNeeded: number | null = null;
  if (toGo === null) absent[`${name}.lengthNeeded`] = absent['lengthToGo'] ?? '';
  else if (typeof speed === 'string') absent[`${name}.lengthNeeded`] = speed;
  else if (feed === null) absent[`${name}.lengthNeeded`] = 'wireFeedSpeed was not sent in the last 10 s';
  else if (feed <= 0) absent[`${name}.lengthNeeded`] = 'no wire is fed';
  else lengthNeeded = (feed * toGo) / speed;
  const noDiameter = 'neither the assignment nor the procedure names a wireDiameter';
  const massNeeded = lengthNeeded === null || massPerMetre === null ? null : lengthNeeded * massPerMetre;
  if (massNeeded === null) absent[`${name}.massNeeded`] = absent[`${name}.lengthNeeded`] ?? noDiameter;
  const melted = meltedLength(sums.arcs[arc], mergedGaps(gaps));
  const spool = spoolNow(assignment, arc, assigned.spoolMass ?? null);
  const massLeft = massPerMetre === null || melted === null || spool.mass === null ? null : Math.max(0, spool.mass - Math.max(0, melted - spool.melted) * massPerMetre);
  if (massLeft === null) absent[`${name}.massLeft`] = spool.mass === null ? spool.absent : massPerMetre === null ? noDiameter : 'wireFeedSpeed was not sent';
  const endsShortBy = massNeeded === null || massLeft === null || toGo === null ? null : massNeeded > massLeft ? toGo * (1 - massLeft / massNeeded) : 0;
  if (endsShortBy === null) absent[`${name}.endsShortBy`] = absent[`${name}.massLeft`] ?? absent[`${name}.massNeeded`] ?? '';
  return { arc, lengthNeeded, massNeeded, massLeft, endsShortBy };
}

/** kg on the spool that is on now when it was put on, and m of wire that the run had melted by then. */
function spoolNow(assignment: Assignment | null, arc: number, spoolMass: number | null): { readonly mass: number | null; readonly melted: number; readonly absent: string } {
  const changed = assignment?.materials?.findLast((own) => own.kind === 'spoolChanged' && own.arc === arc);
  if (changed === undefined) return { mass: spoolMass, melted: 0, absent: 'the assignment names no spoolMass' };
  return { mass: changed.mass, melted: changed.melted ?? 0, absent: 'the spool was changed, and nobody entered how much is on the new one' };
}
