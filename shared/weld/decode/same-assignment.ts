import type { AssignedArc, Assignment, ConfirmedEntry, FluxDrying, MaterialChange, Preparation } from '../procedure/assignment.js';

/**
 * Whether a later assignment says the same as the one in force. A field left out equals its default (direction 1, startOffset 0, motion of the
 * carriage, not simulated, no run for each turn); the order of the arcs does not matter; `time` counts only if the later one gives it.
 */
export function sameAssignment(inForce: Assignment, later: Assignment): boolean {
  if (later.time !== undefined && later.time !== inForce.time) return false;
  return comparable(inForce) === comparable(later);
}

// The fields are named one by one, so that a field added to a type is either compared or fails to compile.
function comparable({
  seam, run, procedure, purpose, seamLength, thickness, side, datum, startOffset = 0, direction = 1, runOn, runOff, motion = 'carriage',
  diameter, turnIsRun = false, lastRun, preheat, operator, arcs = [], fluxLot, preparation = {}, materials = [], simulated = false,
}: Assignment): string {
  const fields: Record<Exclude<keyof Assignment, 'time'>, unknown> = {
    seam, run, procedure, purpose, seamLength, thickness, side, datum, startOffset, direction, runOn, runOff, motion,
    diameter, turnIsRun, lastRun, preheat, operator, arcs: arcs.toSorted((a, b) => a.arc - b.arc).map(comparableArc), fluxLot,
    preparation: comparablePreparation(preparation), materials: materials.map(comparableMaterial), simulated,
  };
  return JSON.stringify(fields);
}

const comparableArc = ({ arc, wireDiameter, electrodeExtension, wireLot, spoolMass }: AssignedArc): Record<keyof AssignedArc, unknown> =>
  ({ arc, wireDiameter, electrodeExtension, wireLot, spoolMass });
const comparableFlux = ({ dried, temperature, hours }: FluxDrying): Record<keyof FluxDrying, unknown> => ({ dried, temperature, hours });
const comparableConfirmed = ({ entry, arc, value, by, at }: ConfirmedEntry): Record<keyof ConfirmedEntry, unknown> => ({ entry, arc, value, by, at });
const comparableMaterial = ({ kind, arc, lot, mass, travelled, melted, by, at }: MaterialChange): Record<keyof MaterialChange, unknown> =>
  ({ kind, arc, lot, mass, travelled, melted, by, at });
function comparablePreparation({
  surfaceCleaned, flux = {}, polarityChecked, trackParallel, preheatMeasured, by, at, confirmed = [],
}: Preparation): Record<keyof Preparation, unknown> {
  return { surfaceCleaned, flux: comparableFlux(flux), polarityChecked, trackParallel, preheatMeasured, by, at, confirmed: confirmed.map(comparableConfirmed) };
}
