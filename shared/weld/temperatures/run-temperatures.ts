import type { Assignment } from '../procedure/assignment.js';
import type { StartTemperature } from '../cooling/cooling-conditions.js';
import type { Measurement, MeasurementPlace } from './measurement.js';
import type { RunBeginning } from './plate-samples.js';

/** Everything that decides which temperature counts for a run. */
export interface TemperatureSources {
  readonly begin: RunBeginning;
  /** Its id; null if it has none yet. */
  readonly run: string | null;
  readonly assignment: Pick<Assignment, 'seam' | 'run' | 'preparation'> | null;
  /** What was entered at the carriage and at its runs, in the order in which it was entered. */
  readonly entered: readonly Measurement[];
  /** Where the carriage's own sensor measures; null if nobody said. */
  readonly platePlace: MeasurementPlace | null;
  /** For how long a measurement counts, µs. */
  readonly age: number;
}

/** One temperature of a run; what was not said of it is null. */
export interface RunTemperature extends Pick<Measurement, 'kind' | 'value' | 'at' | 'seam' | 'seamPosition' | 'distance' | 'instrument' | 'withdrawn'> {
  /** Null for what was not entered as a measurement. */
  readonly id: string | null;
  readonly place: MeasurementPlace | null;
  readonly by: string | null;
  readonly from: 'entered' | 'preparation' | 'sensor';
  /** Whether it is the one that counts. */
  readonly used: boolean;
}

type Candidate = Omit<RunTemperature, 'used'>;

/**
 * All temperatures of a run, by the time at which they were taken, with the one that counts marked: the newest one taken ahead of the arc, of either kind and
 * not withdrawn, at most `age` before the start of the run and not after it; of several taken at one time the one entered last. What was measured before
 * another run of the carriage was lit says nothing of the plate after it, unless it was entered at this very run.
 */
export function runTemperatures(sources: TemperatureSources): RunTemperature[] {
  const candidates = candidatesOf(sources);
  let used: Candidate | null = null;
  for (const own of candidates) if (mayCount(own, sources) && (used === null || own.at >= used.at)) used = own;
  return candidates.map((own) => ({ ...own, used: own === used })).sort((a, b) => a.at - b.at);
}

/** The temperature that counts; null if none does. */
export function countingTemperature(temperatures: readonly RunTemperature[]): RunTemperature | null {
  return temperatures.find(({ used }) => used) ?? null;
}

/** Whether a measurement was entered for a run: at the run itself, or at its carriage for the first run lit at or after it, on its seam. */
export function isMeasuredFor({ run, at, seam }: Measurement, of: Pick<TemperatureSources, 'run' | 'assignment' | 'begin'>): boolean {
  if (run !== null) return run === of.run;
  return at <= of.begin.start && (of.begin.before === null || at > of.begin.before) && (seam === null || seam === of.assignment?.seam);
}

/** Those that do not count on equal times come first. */
function candidatesOf(sources: TemperatureSources): Candidate[] {
  const { begin: { plate }, assignment, entered, platePlace } = sources;
  const unsaid = { id: null, seamPosition: null, distance: null, instrument: null, withdrawn: null };
  const sensed: Candidate[] = plate === null ? [] : [
    { ...unsaid, kind: assignment?.run === 1 ? 'preheat' : 'interpass', value: plate.value, at: plate.at, seam: assignment?.seam ?? null, place: platePlace, by: null, from: 'sensor' },
  ];
  const prepared = preparedPreheat(assignment);
  const checked: Candidate[] = prepared === null ? [] : [{ ...unsaid, kind: 'preheat', ...prepared, seam: assignment?.seam ?? null, place: 'ahead', from: 'preparation' }];
  const measured = entered.filter((own) => isMeasuredFor(own, sources)).map((own): Candidate => {
    const { id, kind, value, at, seam, place, seamPosition, distance, instrument, by, withdrawn } = own;
    return { id, kind, value, at, seam, place, seamPosition, distance, instrument, by, from: 'entered', withdrawn };
  });
  return [...sensed, ...checked, ...measured];
}

/** The preheat entered with the preparation, and when: of the entry itself if that is known, else of the newest entry. Null without a time, since its age is not known then. */
function preparedPreheat(assignment: TemperatureSources['assignment']): { readonly value: number; readonly at: number; readonly by: string | null } | null {
  const { preheatMeasured: value, at: last, by: lastBy, confirmed } = assignment?.preparation ?? {};
  if (value === undefined) return null;
  const said = confirmed?.find((own) => own.entry === 'preheatMeasured' && own.value === value);
  const at = said?.at ?? last;
  return at === undefined ? null : { value, at, by: said?.by ?? lastBy ?? null };
}

function mayCount({ at, place, withdrawn, from }: Candidate, { begin: { start, before }, age }: TemperatureSources): boolean {
  if (place !== 'ahead' || withdrawn !== null || at > start || start - at > age) return false;
  return from === 'entered' || before === null || at > before;
}

/** The temperature from which a run starts: the one that counts, else the one that was declared; null without either. */
export function startTemperature(counts: Pick<RunTemperature, 'value' | 'kind'> | null, declared: number | undefined): StartTemperature | null {
  if (counts !== null) return { value: counts.value, from: counts.kind };
  return declared === undefined ? null : { value: declared, from: 'declared' };
}
