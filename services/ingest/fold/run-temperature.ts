import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import type { StartTemperature } from '../../../shared/weld/cooling/cooling-conditions.js';
import type { KnownOfRun } from '../../../shared/weld/procedure/zone.js';
import { sensorsOf } from '../../../shared/weld/run/sensor-timeline.js';
import type { Measurement } from '../../../shared/weld/temperatures/measurement.js';
import type { RunBeginning } from '../../../shared/weld/temperatures/plate-samples.js';
import { countingTemperature, runTemperatures, startTemperature, type RunTemperature } from '../../../shared/weld/temperatures/run-temperatures.js';
import { temperatureChecks, type TemperatureCheck } from '../../../shared/weld/temperatures/temperature-checks.js';
import type { Carriage } from './carriage.js';
import type { FoldDeps } from './fold-deps.js';
import { assignmentOf } from './intake.js';
import { platePlaceOf } from './plate-place.js';
import { knownEntry, type RunEntry } from './run-book.js';

type Folded = Pick<Carriage, 'intake' | 'runs'>;
type Deps = Pick<FoldDeps, 'settings'>;

/** How a run began, and the index of the declaration of sensors by which it was lit; runs of earlier versions have none. */
export type LitRun = RunBeginning & { readonly sensors?: number | undefined };

/** How a run begins; the id of its entry, null if it has none yet. */
export interface BegunRun {
  readonly id: string | null;
  readonly begin: LitRun;
  readonly assignment: Assignment | null;
}

/** The temperatures of a run; `entered` replaces those in memory, if more had to be read. */
export function temperaturesOf(carriage: Pick<Carriage, 'intake'>, { id, begin, assignment }: BegunRun, { settings }: Deps, entered: readonly Measurement[] = carriage.intake.temperatures): RunTemperature[] {
  return runTemperatures({ begin, run: id, assignment, entered, platePlace: platePlaceOf(carriage, begin.sensors), age: settings.temperatureAge });
}

/** The temperature from which the fold's run with an ordinal starts. */
export function foldedTemperature(carriage: Folded, epoch: number, begin: LitRun & { readonly ordinal: number }, deps: Deps): StartTemperature | null {
  const { intake, runs } = carriage;
  const assignment = assignmentOf(intake, epoch);
  const entry = knownEntry(runs, { ...begin, epoch, assignment });
  return startOf(carriage, { id: entry?.id ?? null, begin, assignment }, deps);
}

/** What is known of a run besides its assignment and its procedure. */
export function knownOf(carriage: Pick<Carriage, 'intake'>, run: BegunRun, deps: Deps, entered?: readonly Measurement[]): KnownOfRun {
  return { sensors: sensorsOf(carriage.intake.sensors, run.begin.sensors ?? -1), temperature: startOf(carriage, run, deps, entered) };
}

/** The same under the assignment that a person gave it; nothing without one. */
export function knownUnder(carriage: Pick<Carriage, 'intake'>, { id, override }: Pick<RunEntry, 'id' | 'override'>, begin: LitRun, deps: Deps): KnownOfRun {
  return override === null ? {} : knownOf(carriage, { id, begin, assignment: JSON.parse(override) as Assignment }, deps);
}

/** The temperature from which a run starts: the one that counts, else the declared one. */
export function startOf(carriage: Pick<Carriage, 'intake'>, run: BegunRun, deps: Deps, entered?: readonly Measurement[]): StartTemperature | null {
  return startTemperature(countingTemperature(temperaturesOf(carriage, run, deps, entered)), run.assignment?.preheat);
}

/** The checks of a run by the revision of its procedure. */
export function checksOf(temperatures: readonly RunTemperature[], assignment: Assignment | null, revision: number | null, { procedures }: Pick<FoldDeps, 'procedures'>): TemperatureCheck[] {
  const { temperatureWindows } = procedures.parameters(assignment, revision);
  return temperatureChecks(temperatureWindows, assignment?.run ?? null, countingTemperature(temperatures)?.value ?? null);
}
