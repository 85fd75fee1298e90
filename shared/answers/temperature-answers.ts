import type { TemperatureMeasurement } from '../api-types/temperature.js';
import type { RunTemperatureAnswer } from '../api-types/temperature.js';
import type { MissingEntry } from '../weld/preparation/preparation.js';
import { isoTime } from '../weld/run/run-figures.js';
import type { Measurement, Withdrawal } from '../weld/temperatures/measurement.js';
import type { RunTemperature } from '../weld/temperatures/run-temperatures.js';
import type { CheckedTemperature, TemperatureCheck } from '../weld/temperatures/temperature-checks.js';
import type { PreparationAnswer } from './preparation-state.js';

/** The temperatures of a run as its record has them. */
export function runTemperaturesAnswer(temperatures: readonly RunTemperature[]): RunTemperatureAnswer[] {
  return temperatures.map(({ id, kind, value, at, seam, place, seamPosition, distance, instrument, by, from, used, withdrawn }) =>
    ({ id, kind, value, at: isoTime(at), seam, place, seamPosition, distance, instrument, by, from, used, withdrawn: withdrawnAnswer(withdrawn) }));
}

/** A measurement by itself, as it was entered at a carriage or at one of its runs. */
export function measurementAnswer(own: Measurement, { site, carriage }: { readonly site: string; readonly carriage: string }): TemperatureMeasurement {
  const { id, run, kind, value, at, seam, place, seamPosition, distance, instrument, by, reason, entered, withdrawn } = own;
  return {
    id, site, carriage, run, kind, value, at: isoTime(at), seam, place, seamPosition, distance, instrument, by, reason, enteredAt: isoTime(entered),
    withdrawn: withdrawnAnswer(withdrawn),
  };
}

function withdrawnAnswer(withdrawn: Withdrawal | null): { readonly at: string; readonly by: string } | null {
  return withdrawn === null ? null : { at: isoTime(withdrawn.at), by: withdrawn.by };
}

const entryOf = { preheat: 'preheatMeasured', interpassTemperature: 'interpassMeasured' } as const satisfies Record<CheckedTemperature, string>;

/** What a preparation lacks, the temperatures included: those that nobody measured in time, and those outside their limits. */
export function withTemperatures(preparation: PreparationAnswer, checks: readonly TemperatureCheck[]): PreparationAnswer {
  const open = checks.flatMap(({ quantity, min, max, value, verdict }): MissingEntry[] =>
    (verdict === 'inside' ? [] : [{ entry: entryOf[quantity], arc: null, reason: verdict === 'outside' ? 'outside' : 'notEntered', value, against: 'procedure', min, max }]));
  return open.length === 0 ? preparation : { ...preparation, missing: [...preparation.missing, ...open] };
}
