import { createContext, type JSX } from 'preact';
import { useContext } from 'preact/hooks';
import { Mark } from '../shared/mark.js';
import { Options } from '../shared/form-parts.js';
import { behindLabel, unitOf } from '../shared/units.js';
import type { Fields } from './draft.js';
import { entryText, noEntry, typedNumber, typedText, type Entry } from './entry.js';
import { reasonText, type Reason } from './field-problem.js';
import { isRequired, specOf } from './field-specs.js';
import { formWords } from './form-words.js';
import { keptText } from './value-text.js';

interface FieldProps {
  readonly section: Section;
  readonly name: string;
  readonly label: string;
  readonly hint?: string | undefined;
}

/** A text or a number with its label, unit, and below it the hint or what is wrong. */
export function Field({ section, name, label, hint, wide = false }: FieldProps & { readonly wide?: boolean }): JSX.Element {
  const { quantity } = specOf(name);
  return (
    <div class={wide ? 'field field-wide' : 'field'}>
      <label for={useField(section, name).ids.input} class={isRequired(name) ? 'required' : undefined}>
        {label}
        {quantity !== null && <span class="unit">{behindLabel(unitOf(quantity))}</span>}
      </label>
      <Input section={section} name={name} hint={hint} />
    </div>
  );
}

interface InputProps {
  readonly section: Section;
  readonly name: string;
  readonly label?: string;
  readonly hint?: string | undefined;
}

/** The input alone, for tables; `label` where no label element names it. */
export function Input({ section, name, label, hint }: InputProps): JSX.Element {
  const field = useField(section, name);
  const say = formWords();
  const { is, quantity } = specOf(name);
  const kept = keptText(quantity, field.entry);
  const below = [...(kept === null ? [] : [say.kept(kept)]), ...(hint === undefined ? [] : [hint])].join(' · ');
  return (
    <>
      <input
        type="text"
        inputMode={is === 'number' ? 'decimal' : 'text'}
        class={is === 'number' ? 'digits' : undefined}
        autocomplete="off"
        aria-label={label}
        aria-required={isRequired(name) ? 'true' : undefined}
        value={is === 'number' ? entryText(field.entry, quantity) : (field.entry.text ?? '')}
        onInput={(event) => {
          const text = event.currentTarget.value;
          section.set(name, is === 'number' ? typedNumber(text, quantity) : typedText(text));
        }}
        {...field.attributes(below !== '')}
      />
      <Below field={field} hint={below} />
    </>
  );
}

/** Letters of a line where a browser cannot make a field as high as its text. */
const lettersOfLine = 28;

/** A sentence in a field that grows with it, so that all of it is visible. It contains no line breaks. */
export function SentenceInput({ section, name, label }: Omit<InputProps, 'hint'>): JSX.Element {
  const field = useField(section, name);
  const text = field.entry.text ?? '';
  return (
    <>
      <textarea
        rows={Math.max(1, Math.ceil(text.length / lettersOfLine))}
        autocomplete="off"
        aria-label={label}
        value={text}
        onKeyDown={(event) => { if (event.key === 'Enter') event.preventDefault(); }}
        onInput={(event) => { section.set(name, typedText(event.currentTarget.value.replaceAll(/\s*\n\s*/g, ' '))); }}
        {...field.attributes(false)}
      />
      <Below field={field} hint="" />
    </>
  );
}

/** One of a few choices; the first is empty. */
export function Choice({ section, name, label, choices, inTable = false }: FieldProps & { readonly choices: readonly (readonly [string, string])[]; readonly inTable?: boolean }): JSX.Element {
  const field = useField(section, name);
  const value = field.entry.text ?? (field.entry.value === null ? '' : String(field.entry.value));
  const control = (
    <select
      value={value}
      aria-label={inTable ? label : undefined}
      onChange={(event) => {
        const chosen = event.currentTarget.value;
        section.set(name, chosen === '' ? noEntry : specOf(name).is === 'number' ? typedNumber(chosen, null) : typedText(chosen));
      }}
      {...field.attributes(false)}
    >
      <Options choices={choices} />
    </select>
  );
  if (inTable) {
    return (
      <>
        {control}
        <Below field={field} hint="" />
      </>
    );
  }
  return (
    <div class="field">
      <label for={field.ids.input}>{label}</label>
      {control}
      <Below field={field} hint="" />
    </div>
  );
}

/** The problem replaces the hint until it is corrected. */
function Below({ field, hint }: { readonly field: FieldAccess; readonly hint: string }): JSX.Element | null {
  if (field.wrong.length > 0) return <p class="wrong" id={field.ids.wrong}><Mark name="warning" /> {field.wrong.join(' ')}</p>;
  if (hint === '') return null;
  return <p class="hint" id={field.ids.hint}>{hint}</p>;
}

interface FieldAccess {
  readonly entry: Entry;
  /** What is wrong, in words; empty where nothing is. */
  readonly wrong: readonly string[];
  readonly ids: { readonly input: string; readonly hint: string; readonly wrong: string };
  /** Attributes that every input has; `hinted` says whether a hint is shown below it. */
  readonly attributes: (hinted: boolean) => Readonly<Record<string, string | boolean | undefined>>;
}

/** What an input needs to know of its field. */
function useField(section: Section, name: string): FieldAccess {
  const problems = useContext(FormProblems);
  const path = section.prefix + name;
  const wrong = (problems.get(path) ?? []).map((reason) => reasonText(reason, path));
  const input = `field-${path.replaceAll(/[^A-Za-z0-9]+/g, '-')}`;
  const ids = { input, hint: `${input}-hint`, wrong: `${input}-wrong` };
  return {
    entry: section.fields[name] ?? noEntry,
    wrong,
    ids,
    attributes: (hinted) => {
      return { id: input, 'data-field': path, 'aria-invalid': wrong.length > 0 ? 'true' : undefined, 'aria-describedby': wrong.length > 0 ? ids.wrong : hinted ? ids.hint : undefined };
    },
  };
}

/** What is wrong in a form, by the path of the input that shows it. */
export const FormProblems = createContext<ReadonlyMap<string, readonly Reason[]>>(new Map());

/** A part of the form: its entries, and what precedes their names in the API's paths. */
export interface Section { readonly prefix: string; readonly fields: Fields; readonly set: (name: string, entry: Entry) => void }
