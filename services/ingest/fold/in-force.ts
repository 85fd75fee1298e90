import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import { epochInForce } from '../../../shared/weld/run/turn-series.js';
import type { Carriage } from './carriage.js';
import { assignmentOf } from './intake.js';

/**
 * The epoch in force at a carriage: that of its newest assignment, after the turns that the fold has found. Until everything is folded again, the runs that are
 * stored say how far it had come.
 */
export function epochInForceOf({ intake, fold, runs }: Carriage): number {
  const known = fold.dirtyFrom === null ? [] : [...runs.entries.values(), ...runs.orphans].map(({ epoch }) => epoch);
  return epochInForce(intake.timeline, [fold.live.head.epoch, ...known]);
}

export function assignmentInForce(carriage: Carriage): Assignment | null {
  return assignmentOf(carriage.intake, epochInForceOf(carriage));
}
