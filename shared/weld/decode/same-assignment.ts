import type { AssignedArc, Assignment, ConfirmedEntry, FluxDrying, MaterialChange, Preparation } from '../procedure/assignment.js';

/**
 * Whether a later assignment says the same as the one in force. A field left out equals its default (direction 1, startOffset 0, motion of the
 * carriage, not simulated); the order of the arcs does not matter; `time` counts only if the later one gives it.
 */
export function sameAssignment(inForce: Assignment, later: Assignment): boolean {
  if (later.time !== undefined && later.time !== inForce.time) return false;
  return comparable(inForce) === comparable(later);
}

// The fields are named one by one, so that a field added to the type is either compared or fails to compile.
function comparable(assignment: Assignment): string {
  const fields: Record<Exclude<keyof Assignment, 'time'>, unknown> = {
    seam: assignment.seam,
    run: assignment.run,
    procedure: assignment.procedure,
    purpose: assignment.purpose,
    seamLength: assignment.seamLength,
    thickness: assignment.thickness,
    side: assignment.side,
    datum: assignment.datum,
    startOffset: assignment.startOffset ?? 0,
    direction: assignment.direction ?? 1,
    runOn: assignment.runOn,
    runOff: assignment.runOff,
    motion: assignment.motion ?? 'carriage',
    diameter: assignment.diameter,
    preheat: assignment.preheat,
    operator: assignment.operator,
    arcs: (assignment.arcs ?? []).toSorted((a, b) => a.arc - b.arc).map(comparableArc),
    fluxLot: assignment.fluxLot,
    preparation: comparablePreparation(assignment.preparation ?? {}),
    materials: (assignment.materials ?? []).map(comparableMaterial),
    simulated: assignment.simulated ?? false,
  };
  return JSON.stringify(fields);
}

function comparableArc({ arc, wireDiameter, electrodeExtension, wireLot, spoolMass }: AssignedArc): Record<keyof AssignedArc, unknown> {
  return { arc, wireDiameter, electrodeExtension, wireLot, spoolMass };
}

function comparablePreparation({ surfaceCleaned, flux, polarityChecked, trackParallel, preheatMeasured, by, at, confirmed }: Preparation): Record<keyof Preparation, unknown> {
  return { surfaceCleaned, flux: comparableFlux(flux ?? {}), polarityChecked, trackParallel, preheatMeasured, by, at, confirmed: (confirmed ?? []).map(comparableConfirmed) };
}

function comparableFlux({ dried, temperature, hours }: FluxDrying): Record<keyof FluxDrying, unknown> {
  return { dried, temperature, hours };
}

function comparableConfirmed({ entry, arc, value, by, at }: ConfirmedEntry): Record<keyof ConfirmedEntry, unknown> {
  return { entry, arc, value, by, at };
}

function comparableMaterial({ kind, arc, lot, mass, travelled, melted, by, at }: MaterialChange): Record<keyof MaterialChange, unknown> {
  return { kind, arc, lot, mass, travelled, melted, by, at };
}
