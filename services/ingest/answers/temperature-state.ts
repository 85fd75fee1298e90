import type { CarriageTemperatures } from '../../../shared/api-types/carriage.js';
import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import type { Absence, Absences } from '../../../shared/weld/run/absence.js';
import { isoTime } from '../../../shared/weld/run/run-figures.js';
import { darkSince, type RunState } from '../../../shared/weld/run/run-state.js';
import { runBeginning } from '../../../shared/weld/temperatures/plate-samples.js';
import { readyAt, type Reached } from '../../../shared/weld/temperatures/ready-at.js';
import type { RunTemperature } from '../../../shared/weld/temperatures/run-temperatures.js';
import type { TemperatureCheck } from '../../../shared/weld/temperatures/temperature-checks.js';
import type { Carriage } from '../fold/carriage.js';
import type { FoldDeps } from '../fold/fold-deps.js';
import { assignmentOf } from '../fold/intake.js';
import { checksOf, temperaturesOf } from '../fold/run-temperature.js';

/** When the plate will be ready, and why that is not known. */
export type Readiness = Omit<CarriageTemperatures, 'absent' | 'reasons'> & { readonly reasons: Absences };

/** The temperatures of a carriage as its state tells them. */
export interface TemperatureState {
  readonly checks: readonly TemperatureCheck[];
  readonly ready: Readiness;
  /** When the checks may change though nothing comes, µs by the clock of the service: a measurement grows too old, or one that was entered ahead of its time counts. */
  readonly changesAt: number;
}

/** A measurement that lies this far ahead is a mistake of the clock, which nobody waits for, µs; common practice, no source: a day. */
const farAhead = 86_400e6;

/**
 * The checks of the run in which an arc burns; without one those of the assignment in force, as if it were lit now, and when the plate will be ready for it.
 * `revision` is that of the procedure of the assignment in force.
 */
export function temperatureState(carriage: Carriage, burning: RunState | null, assignment: Assignment | null, revision: number | null, deps: FoldDeps): TemperatureState {
  const { intake, runs } = carriage;
  if (burning !== null) {
    const welded = assignmentOf(intake, burning.epoch);
    const id = runs.entries.get(burning.ordinal)?.id ?? null;
    const checks = checksOf(temperaturesOf(carriage, { id, begin: burning, assignment: welded }, deps), welded, runs.pinned.get(burning.epoch) ?? null, deps);
    return { checks, ready: readyAnswer(burns, burns, null), changesAt: Infinity };
  }
  const behind = (intake.clockOffset ?? 0) * 1e6;
  const { began, plate } = carriage.fold.live.head.merge;
  const begin = { ...runBeginning(plate, began, Math.floor(deps.now() - behind)), sensors: intake.sensors.length - 1 };
  const temperatures = temperaturesOf(carriage, { id: null, begin, assignment }, deps);
  const checks = checksOf(temperatures, assignment, revision, deps);
  const changesAt = checks.length === 0 ? Infinity : behind + nextChange(carriage, temperatures, begin.start, deps);
  return { checks, ready: readiness(carriage, assignment, revision, deps), changesAt };
}

function nextChange({ intake }: Carriage, temperatures: readonly RunTemperature[], now: number, { settings }: FoldDeps): number {
  let next = Infinity;
  for (const { at, used } of temperatures) if (used) next = Math.min(next, at + settings.temperatureAge + 1e3);
  const ahead = [...intake.temperatures.map(({ at }) => at), intake.timeline.at(-1)?.body?.preparation?.at ?? now];
  for (const at of ahead) if (at > now && at < now + farAhead) next = Math.min(next, at);
  return next;
}

/** When the plate that cools since the arc went out reaches the limits of the assignment in force. */
function readiness({ intake, fold, runs }: Carriage, assignment: Assignment | null, revision: number | null, { procedures, settings }: FoldDeps): Readiness {
  const { preheat, interpassTemperature } = procedures.parameters(assignment, revision).temperatureWindows;
  const { run } = fold.live.head.merge;
  let out = run === null ? -Infinity : (darkSince(run)?.outAt ?? run.lastOn);
  for (const { lastOn } of runs.entries.values()) out = Math.max(out, lastOn);
  const points = intake.temperatures
    .filter(({ at, place, withdrawn, seam }) => at >= out && place === 'ahead' && withdrawn === null && (seam === null || assignment === null || seam === assignment.seam))
    .sort((a, b) => a.at - b.at);
  const { at, until, from } = readyAt(points, { interpassMax: interpassTemperature?.max ?? null, preheatMin: preheat?.min ?? null }, settings.ambient);
  const told = (reached: Reached): Told => ('at' in reached ? reached : { why: reached.why === 'noTemperatureLimit' ? whyNoLimit(assignment, revision) : { code: reached.why } });
  return readyAnswer(told(at), told(until), from);
}

/** Why there is no limit to become ready for. */
function whyNoLimit(assignment: Assignment | null, revision: number | null): Absence {
  if (assignment === null) return { code: 'noAssignment' };
  if (assignment.procedure === undefined) return { code: 'noProcedure' };
  return revision === null ? { code: 'procedureUnknown', procedure: assignment.procedure } : { code: 'noTemperatureLimit' };
}

type Told = { readonly at: number } | { readonly why: Absence };

const burns: Told = { why: { code: 'arcBurns' } };

function readyAnswer(at: Told, until: Told, from: readonly [string, string] | null): Readiness {
  const reasons: Absences = {};
  if ('why' in at) reasons['readyAt'] = at.why;
  if ('why' in until) reasons['readyUntil'] = until.why;
  if (from === null && 'why' in at) reasons['readyFrom'] = at.why;
  return { readyAt: 'at' in at ? isoTime(at.at) : null, readyUntil: 'at' in until ? isoTime(until.at) : null, readyFrom: from === null ? null : [...from], reasons };
}
