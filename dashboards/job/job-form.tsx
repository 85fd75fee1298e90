import { useSignal } from '@preact/signals';
import type { JSX } from 'preact';
import { useId, useLayoutEffect, useRef } from 'preact/hooks';
import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import type { Run } from '../../shared/api-types/run.js';
import { handleSubmit } from '../shared/form-parts.js';
import { Mark } from '../shared/mark.js';
import type { JobTarget } from './job-api.js';
import { jobSections } from './job-sections.js';
import { jobWords } from './job-words.js';
import './job.css';
import { sectionOf, useJobForm } from './use-job-form.js';

export interface JobFormProps {
  /** A carriage that gets the job from now on, or a finished run that is assigned or corrected. */
  readonly target: JobTarget;
  /** The initial content of the fields; null for empty fields. A saved job keeps what the form has no field for. */
  readonly start: AssignmentAnswer | null;
  /** Whether a record is being corrected, which wants its reason. */
  readonly asksWhy: boolean;
  /** The person known to be here; the form asks anyway, and starts with this name. */
  readonly by: string | null;
  /** One section at a time, with controls of the size of a glove. */
  readonly inSteps?: boolean;
  readonly onSaved: (saved: AssignmentAnswer | Run) => void;
  readonly onCancel?: (() => void) | undefined;
}

/** Gives a carriage its job, corrects it, or assigns a finished run. */
export function JobForm({ target, start, asksWhy, by, inSteps = false, onSaved, onCancel }: JobFormProps): JSX.Element {
  const say = jobWords();
  const id = useId();
  const form = useJobForm(target, start, by, asksWhy, onSaved);
  const at = useSignal(0);
  const place = useRef<HTMLFormElement>(null);
  const shown = at.value;
  useLayoutEffect(() => {
    if (inSteps) place.current?.querySelector<HTMLElement>('.job-section input, .job-section select')?.focus();
  }, [shown, inSteps]);
  const last = shown === jobSections.length - 1;
  const wrongFields = Object.keys(form.wrong);
  const save = async (): Promise<void> => {
    await form.save();
    const first = place.current?.querySelector<HTMLElement>('[aria-invalid]');
    first?.focus();
  };
  return (
    <form
      ref={place}
      class={inSteps ? 'job-form job-steps' : 'job-form'}
      noValidate
      onSubmit={handleSubmit(() => {
        if (inSteps && !last) at.value = shown + 1;
        else void save();
      })}
    >
      {jobSections.map(({ title, Fields }, index) =>
        inSteps && index !== shown ? null : (
          <fieldset key={index} class="job-section">
            <legend>{title()} {inSteps && <span class="aside">{say.step(index + 1, jobSections.length)}</span>}</legend>
            <Fields form={form} id={`${id}-${index}`} asksWhy={asksWhy} inSteps={inSteps} />
          </fieldset>
        ),
      )}
      <div role="alert" class="job-failure">
        {wrongFields.length > 0 && (
          <p>
            <Mark name="warning" /> {say.correctFields(wrongFields.length)}{' '}
            {inSteps &&
              [...new Set(wrongFields.map(sectionOf))].sort().filter((index) => index !== shown).map((index) => (
                <button key={index} type="button" class="push" onClick={() => { at.value = index; }}>{jobSections[index]?.title()}</button>
              ))}
          </p>
        )}
        {form.failure !== null && <p><Mark name="warning" /> {say.notSavedKept(form.failure)}</p>}
      </div>
      <div class="pushes job-pushes">
        {inSteps && !last && <button type="submit" class="push">{say.next}</button>}
        <button type={inSteps && !last ? 'button' : 'submit'} class="push push-first" disabled={form.sending} onClick={inSteps && !last ? () => { void save(); } : undefined}>
          {form.sending ? say.saving : say.save}
        </button>
        {inSteps && shown > 0 && <button type="button" class="push" onClick={() => { at.value = shown - 1; }}>{say.back}</button>}
        {onCancel !== undefined && <button type="button" class="push" onClick={onCancel}>{say.cancel}</button>}
      </div>
    </form>
  );
}
