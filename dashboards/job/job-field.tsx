import type { JSX } from 'preact';
import { fieldAttributes, FormField, Options } from '../shared/form-parts.js';
import { formatNumber, unitOf } from '../shared/units.js';
import type { WrongField } from './job-draft.js';
import { limitsOf, numberFields, type NumberField } from './job-fields.js';
import { jobWords } from './job-words.js';

interface FieldProps {
  /** Distinguishes the fields of a page. */
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly wrong: string | null;
  readonly onInput: (text: string) => void;
}

export function TextInput({ id, label, value, wrong, onInput, choices, required = false }: FieldProps & { readonly choices?: readonly string[]; readonly required?: boolean }): JSX.Element {
  return (
    <FormField look="job-field" id={id} label={label} wrong={wrong}>
      <input type="text" autocomplete="off" required={required} list={choices === undefined ? undefined : `${id}-list`} value={value} {...fieldAttributes(id, wrong)} onInput={(event) => { onInput(event.currentTarget.value); }} />
      {choices !== undefined && <datalist id={`${id}-list`}>{choices.map((own) => <option key={own} value={own} />)}</datalist>}
    </FormField>
  );
}

export function NumberInput({ id, name, label, value, wrong, onInput, required = false }: FieldProps & { readonly name: NumberField; readonly required?: boolean }): JSX.Element {
  const { quantity } = numberFields[name];
  return (
    <FormField look="job-field" id={id} label={label} unit={quantity === null ? '' : unitOf(quantity)} wrong={wrong}>
      <input type="text" inputMode={numberFields[name].least < 0 ? 'text' : 'decimal'} class="digits" autocomplete="off" required={required} value={value} {...fieldAttributes(id, wrong)} onInput={(event) => { onInput(event.currentTarget.value); }} />
    </FormField>
  );
}

/** A whole number between a − and a +, for a hand in a glove; it may be typed too. */
export function CountInput(props: FieldProps & { readonly name: NumberField; readonly required?: boolean }): JSX.Element {
  const say = jobWords();
  const { name, label, value, onInput } = props;
  const { low, high } = limitsOf(name);
  const step = (by: number): void => {
    const at = Number.parseInt(value, 10);
    onInput(String(Math.min(high, Math.max(low, Number.isNaN(at) ? low : at + by))));
  };
  return (
    <div class="job-count">
      <button type="button" aria-label={say.less(label)} onClick={() => { step(-1); }}>−</button>
      <NumberInput {...props} />
      <button type="button" aria-label={say.more(label)} onClick={() => { step(1); }}>+</button>
    </div>
  );
}

/** One of a few choices; the first is empty. */
export function ChoiceInput({ id, label, value, wrong, onInput, choices }: FieldProps & { readonly choices: readonly (readonly [string, string])[] }): JSX.Element {
  return (
    <FormField look="job-field" id={id} label={label} wrong={wrong}>
      <select value={value} {...fieldAttributes(id, wrong)} onChange={(event) => { onInput(event.currentTarget.value); }}>
        <Options choices={choices} />
      </select>
    </FormField>
  );
}

/** What is wrong with a field in words; `number` names its limits. */
export function wrongText(wrong: WrongField | undefined, number: NumberField | null): string | null {
  const say = jobWords();
  if (wrong === undefined) return null;
  if (wrong !== 'outOfRange') return say[wrong];
  const { low, high } = number === null ? { low: 0, high: 0 } : limitsOf(number);
  return say.outOfRange(formatNumber(low, decimalsOf(low)), formatNumber(high, decimalsOf(high)));
}

function decimalsOf(value: number): number {
  return String(value).split('.')[1]?.length ?? 0;
}
