import { useSignal } from '@preact/signals';
import { useEffect, useState } from 'preact/hooks';
import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import type { Procedure } from '../../shared/api-types/procedure.js';
import type { Run } from '../../shared/api-types/run.js';
import { unitSystem } from '../shared/choices.js';
import type { Answer } from '../shared/api.js';
import { useAnswer } from '../shared/use-answer.js';
import { fetchAllProcedures, putCarriageJob, putRunJob, type JobTarget } from './job-api.js';
import { draftOf, emptyArc, jobOf, type ArcField, type JobDraft, type TextField, type WrongField } from './job-draft.js';
import type { NumberField } from './job-fields.js';

export interface JobFormState {
  readonly draft: JobDraft;
  readonly by: string;
  readonly why: string;
  readonly procedures: readonly Procedure[] | null;
  /** What is wrong with a field, once somebody has tried to save. */
  readonly wrong: Readonly<Record<string, WrongField>>;
  readonly failure: string | null;
  readonly sending: boolean;
  readonly setText: (name: TextField, text: string) => void;
  readonly setNumber: (name: NumberField, text: string) => void;
  readonly setArc: (arc: number, name: ArcField, text: string) => void;
  readonly addArc: () => void;
  readonly removeArc: (arc: number) => void;
  readonly setBy: (text: string) => void;
  readonly setWhy: (text: string) => void;
  readonly save: () => Promise<void>;
}

/** Arcs on one carriage. */
const mostArcs = 6;

/** The state of the form, and saving it. `asksWhy`: a change of something already recorded needs a reason. */
export function useJobForm(target: JobTarget, start: AssignmentAnswer | null, signer: string | null, asksWhy: boolean, onSaved: (saved: AssignmentAnswer | Run) => void): JobFormState {
  const [draft, setDraft] = useState<JobDraft>(() => draftOf(start));
  const [by, setBy] = useState(signer ?? '');
  const [why, setWhy] = useState('');
  const known = useAnswer(fetchAllProcedures, []);
  const procedures = known.failure === null ? known.value : (known.value ?? []);
  const tried = useSignal(false);
  const sending = useSignal(false);
  const failure = useSignal<string | null>(null);
  const units = unitSystem.value;
  useEffect(() => {
    // Numbers typed in one unit are meaningless in the other.
    setDraft(draftOf(start));
  }, [units]);
  const checked = jobOf(draft, start);
  const signature: Record<string, WrongField> = { ...(by.trim() === '' ? { by: 'required' } : {}), ...(asksWhy && why.trim() === '' ? { why: 'required' } : {}) };
  const wrong = { ...(checked.ok ? {} : checked.wrong), ...signature };
  const save = async (): Promise<void> => {
    tried.value = true;
    if (!checked.ok || Object.keys(signature).length > 0 || sending.peek()) return;
    sending.value = true;
    const signed = { by: by.trim(), ...(why.trim() === '' ? {} : { reason: why.trim() }) };
    const answer: Answer<AssignmentAnswer | Run> = 'run' in target ? await putRunJob(target.run, checked.job, signed) : await putCarriageJob(target.site, target.carriage, checked.job, signed);
    sending.value = false;
    failure.value = answer.ok ? null : answer.failure.reason;
    if (answer.ok) onSaved(answer.value);
  };
  return {
    draft, by, why, procedures, wrong: tried.value ? wrong : {}, failure: failure.value, sending: sending.value, setBy, setWhy, save,
    setText: (name, text) => { setDraft((own) => ({ ...own, texts: { ...own.texts, [name]: text } })); },
    setNumber: (name, text) => { setDraft((own) => ({ ...own, numbers: { ...own.numbers, [name]: text } })); },
    setArc: (arc, name, text) => {
      setDraft((own) => ({ ...own, arcs: own.arcs.map((one) => (one.arc === arc ? { arc, texts: { ...one.texts, [name]: text } } : one)) }));
    },
    addArc: () => {
      setDraft((own) => (own.arcs.length >= mostArcs ? own : { ...own, arcs: [...own.arcs, emptyArc(Math.max(...own.arcs.map(({ arc }) => arc)) + 1)] }));
    },
    removeArc: (arc) => { setDraft((own) => ({ ...own, arcs: own.arcs.filter((one) => one.arc !== arc) })); },
  };
}

/** The section with that field, so that a person who saves can be led to it. */
export function sectionOf(field: string): number {
  if (['seam', 'run', 'side', 'purpose'].includes(field)) return 0;
  if (field === 'procedure') return 1;
  if (field.startsWith('arcs[') || field === 'fluxLot' || field === 'preheat') return 3;
  return field === 'by' || field === 'why' || field === 'operator' ? 4 : 2;
}

