import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { Mark } from '../shared/mark.js';
import type { MarkName } from '../shared/mark-name.js';
import { shown } from '../shared/units.js';
import { markBrief } from './marks/mark-text.js';
import type { RunMark } from './marks/run-marks.js';
import { flagText, notJudgedText, sensorText, whyIncomplete } from './run-text.js';
import { runWords } from './run-words.js';

interface FindingsProps { readonly run: Run; readonly marks: readonly RunMark[]; readonly onMark: (number: number) => void }

/** What is wrong with a run and where, before anything else; or that nothing is. */
export function Findings({ run, marks, onMark }: FindingsProps): JSX.Element {
  const say = runWords();
  const first = marks.findIndex((mark) => mark.kind === 'excursion');
  const found = marks[first];
  const judged = judgement(run);
  const missing = whyIncomplete(run);
  const notProven = run.lengths?.notProven ?? 0;
  return (
    <ul class="findings">
      <li class={judged.wrong ? 'out' : undefined}>
          <Mark name={judged.mark} /> <strong>{judged.word}</strong>{say.colon}{judged.more}
          {found !== undefined && (
            <>
              {say.stop}
              <button type="button" class="figure-name" onClick={() => { onMark(first); }}>{say.first(`${found.code} ${markBrief(found)}`)}</button>
            </>
          )}
        </li>
      <li class={run.complete ? undefined : 'out'}>
        <Mark name={run.complete ? 'full' : 'warning'} /> <strong>{run.complete ? say.dataComplete : say.dataIncomplete}</strong>
        {!run.complete && `${say.colon}${say.joined([...missing, ...(notProven > 0 ? [say.notProven(shown('fineLength', notProven))] : [])])}`}
      </li>
      {run.travel === 'declared' && <li class="out"><Mark name="warning" /> <strong>{say.travelDeclared}</strong>{say.colon}{say.travelDeclaredMore}</li>}
      {(run.sensors?.pastDue.length ?? 0) > 0 && <li class="out"><Mark name="warning" /> <strong>{say.pastDue}</strong>{say.colon}{say.joined(run.sensors?.pastDue.map(sensorText) ?? [])}</li>}
      {run.flags.length > 0 && <li class="out"><Mark name="warning" /> {say.flags(say.sentences(run.flags.map(flagText)))}</li>}
    </ul>
  );
}

function judgement(run: Run): { readonly mark: MarkName; readonly word: string; readonly more: string; readonly wrong: boolean } {
  const say = runWords();
  const why = notJudgedText(run);
  const outside = run.lengths?.outside ?? 0;
  if (run.excursions > 0) return { mark: 'warning', word: say.outOfLimits, more: say.outsideMore(shown('fineLength', run.lengths?.outside), run.excursions), wrong: true };
  if (why !== null) return { mark: 'empty', word: say.notJudged, more: why, wrong: false };
  if (outside > 0) return { mark: 'full', word: say.withinLimits, more: say.outsideShort(shown('fineLength', outside)), wrong: false };
  return { mark: 'full', word: say.withinLimits, more: say.insideMore(shown('fineLength', run.lengths?.inside)), wrong: false };
}
