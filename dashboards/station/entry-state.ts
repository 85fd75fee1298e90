import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { missingOf, type AskedEntry } from '../../shared/weld/preparation/preparation.js';
import { shown } from '../shared/units.js';
import type { MarkName } from '../shared/mark-name.js';
import { formatHour } from '../shared/times.js';
import { preparationPageWords } from './preparation-page-words.js';

export interface EntryState {
  readonly is: 'notEntered' | 'notDone' | 'outside' | 'declared' | 'confirmed';
  readonly mark: MarkName;
  readonly words: string;
}

export type TemperatureCheckAnswer = NonNullable<Carriage['temperatureChecks']>[number];

/** The check of the preheat, if what is shown of the carriage has the entries that are shown here. */
export function preheatCheck({ assignment, temperatureChecks }: Carriage, { entry, value }: AskedEntry): TemperatureCheckAnswer | undefined {
  if (entry !== 'preheatMeasured' || (assignment?.preparation?.preheatMeasured ?? null) !== value) return undefined;
  return temperatureChecks?.find(({ quantity }) => quantity === 'preheat');
}

/** The state of an entry: open, outside, declared with the job, or confirmed by somebody at the carriage. */
/** `check`: whether a temperature counts that was measured in time; undefined if nobody knows yet, or if it is no temperature. */
export function entryState(asked: AskedEntry, { preparation }: AssignmentAnswer, check?: TemperatureCheckAnswer): EntryState {
  const say = preparationPageWords();
  const wrong = check === undefined ? (missingOf(asked)[0]?.reason ?? null) : check.verdict === 'inside' ? null : check.verdict === 'outside' ? 'outside' : 'notEntered';
  const said = preparation?.confirmed?.find(({ entry, arc }) => entry === asked.entry && arc === asked.arc);
  const confirmed = said !== undefined && said.value === asked.value ? say.confirmedBy(said.by, said.at === '' ? '' : formatHour(said.at)) : null;
  if (check !== undefined && check.value !== null && check.value !== asked.value) return { is: wrong === null ? 'confirmed' : 'outside', mark: wrong === null ? 'full' : 'alert', words: say.measured(shown('temperature', check.value)) };
  if (wrong === 'notEntered') return { is: wrong, mark: 'empty', words: check !== undefined && asked.value !== null ? say.tooOld : say.notEntered };
  if (wrong === 'notDone') return { is: wrong, mark: 'crossed', words: [say.notDone, confirmed].filter((text) => text !== null).join(' · ') };
  if (wrong === 'outside') return { is: wrong, mark: 'alert', words: [say.outside, confirmed].filter((text) => text !== null).join(' · ') };
  return confirmed === null ? { is: 'declared', mark: 'half', words: say.declared } : { is: 'confirmed', mark: 'full', words: confirmed };
}
