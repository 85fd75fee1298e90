import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import { missingOf, type AskedEntry } from '../../shared/weld/preparation/preparation.js';
import type { MarkName } from '../shared/mark-name.js';
import { formatHour } from '../shared/times.js';
import { preparationPageWords } from './preparation-page-words.js';

export interface EntryState {
  readonly is: 'notEntered' | 'notDone' | 'outside' | 'declared' | 'confirmed';
  readonly mark: MarkName;
  readonly words: string;
}

/** The state of an entry: open, outside, declared with the job, or confirmed by somebody at the carriage. */
export function entryState(asked: AskedEntry, { preparation }: AssignmentAnswer): EntryState {
  const say = preparationPageWords();
  const wrong = missingOf(asked)[0]?.reason ?? null;
  const said = preparation?.confirmed?.find(({ entry, arc }) => entry === asked.entry && arc === asked.arc);
  const confirmed = said !== undefined && said.value === asked.value ? say.confirmedBy(said.by, said.at === '' ? '' : formatHour(said.at)) : null;
  if (wrong === 'notEntered') return { is: wrong, mark: 'empty', words: say.notEntered };
  if (wrong === 'notDone') return { is: wrong, mark: 'crossed', words: [say.notDone, confirmed].filter((text) => text !== null).join(' · ') };
  if (wrong === 'outside') return { is: wrong, mark: 'alert', words: [say.outside, confirmed].filter((text) => text !== null).join(' · ') };
  return confirmed === null ? { is: 'declared', mark: 'half', words: say.declared } : { is: 'confirmed', mark: 'full', words: confirmed };
}
