import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import { checkNumber, numberFields, type NumberField } from './job-fields.js';

/** Text fields of a job, as they are typed. */
export const textFields = ['seam', 'procedure', 'purpose', 'datum', 'direction', 'motion', 'turnIsRun', 'operator', 'fluxLot'] as const;
export type TextField = (typeof textFields)[number];

/** Fields of one arc. */
export const arcNumberFields = ['wireDiameter', 'electrodeExtension', 'spoolMass'] as const;
export type ArcField = (typeof arcNumberFields)[number] | 'wireLot';

export interface ArcDraft { readonly arc: number; readonly texts: Readonly<Record<ArcField, string>> }

/** The content of the form: every field as text, numbers in the chosen unit. */
export interface JobDraft {
  readonly texts: Readonly<Record<TextField, string>>;
  readonly numbers: Readonly<Record<NumberField, string>>;
  readonly arcs: readonly ArcDraft[];
}

export type WrongField = 'required' | 'notANumber' | 'thousands' | 'notWhole' | 'outOfRange' | 'tooLong' | 'diameterNeeded' | 'lastBeforeFirst';

export type CheckedJob = { readonly ok: true; readonly job: AssignmentAnswer } | { readonly ok: false; readonly wrong: Readonly<Record<string, WrongField>> };

/** The longest name that the API accepts. */
const longestText = 128;

export function draftOf(job: AssignmentAnswer | null): JobDraft {
  const text = (value: string | number | boolean | undefined): string => (value === undefined ? '' : String(value));
  const numbers = Object.fromEntries(
    Object.entries(numberFields).filter(([, { ofArc }]) => !ofArc).map(([name, field]) => [name, field.text(job?.[name as keyof AssignmentAnswer] as number | undefined)]),
  ) as JobDraft['numbers'];
  const texts = Object.fromEntries(textFields.map((name) => [name, text(job?.[name])])) as JobDraft['texts'];
  const arcs = (job?.arcs ?? []).map(({ arc, wireLot, ...own }) => ({
    arc,
    texts: { wireLot: wireLot ?? '', ...(Object.fromEntries(arcNumberFields.map((name) => [name, numberFields[name].text(own[name])])) as Record<(typeof arcNumberFields)[number], string>) },
  }));
  return { texts, numbers, arcs: arcs.length === 0 ? [emptyArc(1)] : arcs };
}

export function emptyArc(arc: number): ArcDraft {
  return { arc, texts: { wireDiameter: '', electrodeExtension: '', spoolMass: '', wireLot: '' } };
}

/** A field's name where the form and its problems speak of it: `run`, `arcs[1].wireLot`. */
export function arcFieldName(arc: number, name: ArcField): string {
  return `arcs[${arc}].${name}`;
}

/**
 * The job in the form, checked by the limits of the API, or what is wrong with each field. `start` is what the form began with: a number that nobody changed
 * keeps all of its digits, and so does everything for which the form has no field.
 */
export function jobOf(draft: JobDraft, start: AssignmentAnswer | null): CheckedJob {
  const wrong: Record<string, WrongField> = {};
  // What the form has no field for; but the checks before arc start are not part of the plan, and stay as they are without being sent.
  const job: Record<string, unknown> = start?.simulated === undefined ? {} : { simulated: start.simulated };
  for (const name of textFields) {
    const text = draft.texts[name].trim();
    if (text.length > longestText) wrong[name] = 'tooLong';
    else if (text !== '') job[name] = name === 'direction' ? Number(text) : name === 'turnIsRun' ? text === 'true' : text;
    else if (name === 'seam') wrong['seam'] = 'required';
  }
  const take = (into: Record<string, unknown>, field: string, name: NumberField, text: string, before: number | undefined): void => {
    const read = checkNumber(name, text, before);
    if (read === null) return;
    if (typeof read === 'string') wrong[field] = read;
    else into[name] = read.value;
  };
  for (const name of Object.keys(draft.numbers) as NumberField[]) take(job, name, name, draft.numbers[name], start?.[name as keyof AssignmentAnswer] as number | undefined);
  if (draft.numbers.run.trim() === '') wrong['run'] = 'required';
  if (job['motion'] === 'work' && job['diameter'] === undefined && wrong['diameter'] === undefined) wrong['diameter'] = 'diameterNeeded';
  if (job['motion'] !== 'work' || job['turnIsRun'] !== true) {
    // Without work that rotates no turn ends a run, and there is no last one.
    delete job['turnIsRun'];
    delete job['lastRun'];
  }
  if (Number(job['lastRun']) < Number(job['run'])) wrong['lastRun'] = 'lastBeforeFirst';
  const arcs = draft.arcs.flatMap(({ arc, texts }) => {
    const own: Record<string, unknown> = {};
    const before = start?.arcs?.find((other) => other.arc === arc);
    const lot = texts.wireLot.trim();
    if (lot.length > longestText) wrong[arcFieldName(arc, 'wireLot')] = 'tooLong';
    else if (lot !== '') own['wireLot'] = lot;
    for (const name of arcNumberFields) take(own, arcFieldName(arc, name), name, texts[name], before?.[name]);
    return Object.keys(own).length === 0 ? [] : [{ arc, ...own }];
  });
  if (arcs.length > 0) job['arcs'] = arcs;
  // Every value in it was checked by the rule of its field.
  return Object.keys(wrong).length === 0 ? { ok: true, job: job as unknown as AssignmentAnswer } : { ok: false, wrong };
}
