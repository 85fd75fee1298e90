import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import type { Run } from '../../shared/api-types/run.js';
import { JobForm } from '../job/job-form.js';
import { wordsOf } from '../shared/words.js';
import { AssignmentList } from './assignment-list.js';
import { runWords } from './run-words.js';

interface RunJobProps {
  readonly run: Run;
  readonly onRun: (run: Run) => void;
}

/** The job of a run. A finished run can be given a job, or another one, by a person who signs and gives a reason. */
export function RunJob({ run, onRun }: RunJobProps): JSX.Element {
  const say = wordsOf(runWords);
  const open = useSignal(false);
  const first = run.assignment === null;
  return (
    <section id="job" tabIndex={-1} class={open.value ? 'wide' : undefined}>
      <h2>{say.assignment}</h2>
      {open.value ? (
        <>
          <p class="aside">{say.assignHint()}</p>
          <JobForm
            target={{ run: run.id }}
            start={run.assignment}
            asksWhy={!first}
            by={null}
            onSaved={(saved) => {
              open.value = false;
              if ('startedAt' in saved) onRun(saved);
            }}
            onCancel={() => { open.value = false; }}
          />
        </>
      ) : (
        <>
          <AssignmentList run={run} />
          {run.state === 'finished' && <p class="no-print"><button type="button" onClick={() => { open.value = true; }}>{first ? say.assign : say.correct}</button></p>}
        </>
      )}
    </section>
  );
}
