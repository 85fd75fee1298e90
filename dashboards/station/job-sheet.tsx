import type { JSX } from 'preact';
import { useSignal } from '@preact/signals';
import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { JobForm } from '../job/job-form.js';
import { nextJob, sameRun } from '../job/next-job.js';
import { useLastJob } from '../job/use-last-job.js';
import { seamAndRun } from '../shared/common-words.js';
import { Sheet } from './sheet.js';
import { stationWords } from './station-words.js';

/** Another job for the carriage, or a correction of the current one: the usual cases take one press, the others open the form, one part at a time. */
export function JobSheet({ carriage, person, close }: { readonly carriage: Carriage; readonly person: string | null; readonly close: () => void }): JSX.Element {
  const say = stationWords();
  const { assignment } = carriage;
  const last = useLastJob(carriage);
  const start = useSignal<AssignmentAnswer | null | undefined>(undefined);
  const next = last == null ? null : nextJob(last, carriage.outlook?.wire);
  const chosen = start.value;
  if (last === undefined) return <Sheet title={say.otherJob} close={close}>{say.loading}</Sheet>;
  if (chosen === undefined) {
    return (
      <Sheet title={assignment === null ? say.giveJob : say.otherJob} close={close}>
        <div class="pushes">
          {assignment !== null && (
            <button type="button" class="push" onClick={() => { start.value = assignment; }}>
              {say.correctJob}
              <small>{seamAndRun(assignment)}</small>
            </button>
          )}
          {next !== null && (
            <button type="button" class="push" onClick={() => { start.value = next; }}>
              {say.fromLast}
              <small>{seamAndRun(next)}</small>
            </button>
          )}
          <button type="button" class="push" onClick={() => { start.value = null; }}>{say.emptyJob}</button>
        </div>
      </Sheet>
    );
  }
  return (
    <Sheet title={assignment === null ? say.giveJob : say.otherJob} close={close} focus={chosen}>
      <JobForm target={{ site: carriage.site, carriage: carriage.carriage }} start={chosen} asksWhy={sameRun(chosen, assignment)} by={person} inSteps onSaved={close} onCancel={close} />
    </Sheet>
  );
}
