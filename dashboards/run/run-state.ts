import type { Run } from '../../shared/api-types/run.js';
import { carriageNow } from '../shared/carriages-now.js';
import type { MarkName } from '../shared/mark-name.js';
import { wordsOf } from '../shared/words.js';
import { runWords } from './run-words.js';

export interface RunStateNow {
  readonly is: 'welding' | 'notClosed' | 'finished';
  readonly mark: MarkName;
  readonly word: string;
}

/** What a run does now. The service keeps a run open for a while after its arc went out, as it may be lit again; that does not count as welding. Reads signals. */
export function runStateNow(run: Pick<Run, 'id' | 'state' | 'site' | 'carriage'>): RunStateNow {
  const say = wordsOf(runWords);
  if (run.state === 'finished') return { is: 'finished', mark: 'square', word: say.finished };
  const carriage = carriageNow(`${run.site}/${run.carriage}`);
  if (carriage !== undefined && (!carriage.welding || carriage.run !== run.id)) return { is: 'notClosed', mark: 'half', word: say.notClosed };
  return { is: 'welding', mark: 'full', word: say.welding };
}
