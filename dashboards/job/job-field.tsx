import type { ComponentChildren, JSX } from 'preact';
import { formatNumber } from '../shared/format.js';
import { Mark } from '../shared/mark.js';
import { behindLabel, unitOf } from '../shared/units.js';
import { wordsOf } from '../shared/words.js';
import type { WrongField } from './job-draft.js';
import { limitsOf, numberFields } from './job-fields.js';
import type { NumberField } from './job-fields.js';
import { jobWords } from './job-words.js';

interface FieldProps {
  /** Tells the fields of a page apart. */
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly wrong: string | null;
  readonly onInput: (text: string) => void;
}

/** A label, its control, and below it what is wrong. */
export function Labelled({ id, label, unit, wrong, children }: { readonly id: string; readonly label: string; readonly unit?: string; readonly wrong: string | null; readonly children: ComponentChildren }): JSX.Element {
  return (
    <div class="job-field">
      <label for={id}>
        {label}
        {unit !== undefined && unit !== '' && <span class="unit">{behindLabel(unit)}</span>}
      </label>
      {children}
      {wrong !== null && <p class="wrong" id={`${id}-wrong`}><Mark name="warning" /> {wrong}</p>}
    </div>
  );
}

export function TextInput({ id, label, value, wrong, onInput, choices, required = false }: FieldProps & { readonly choices?: readonly string[]; readonly required?: boolean }): JSX.Element {
  return (
    <Labelled id={id} label={label} wrong={wrong}>
      <input id={id} type="text" autocomplete="off" required={required} list={choices === undefined ? undefined : `${id}-list`} value={value} {...wrongAttributes(id, wrong)} onInput={(event) => { onInput(event.currentTarget.value); }} />
      {choices !== undefined && <datalist id={`${id}-list`}>{choices.map((own) => <option key={own} value={own} />)}</datalist>}
    </Labelled>
  );
}

export function NumberInput({ id, name, label, value, wrong, onInput, required = false }: FieldProps & { readonly name: NumberField; readonly required?: boolean }): JSX.Element {
  const { quantity } = numberFields[name];
  return (
    <Labelled id={id} label={label} unit={quantity === null ? '' : unitOf(quantity)} wrong={wrong}>
      <input id={id} type="text" inputMode={numberFields[name].least < 0 ? 'text' : 'decimal'} class="digits" autocomplete="off" required={required} value={value} {...wrongAttributes(id, wrong)} onInput={(event) => { onInput(event.currentTarget.value); }} />
    </Labelled>
  );
}

/** A whole number between a − and a +, for a hand in a glove; it may be typed too. */
export function CountInput(props: FieldProps & { readonly name: NumberField; readonly required?: boolean }): JSX.Element {
  const say = wordsOf(jobWords);
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

/** One of a few; the first choice says nothing. */
export function ChoiceInput({ id, label, value, wrong, onInput, choices }: FieldProps & { readonly choices: readonly (readonly [string, string])[] }): JSX.Element {
  return (
    <Labelled id={id} label={label} wrong={wrong}>
      <select id={id} value={value} {...wrongAttributes(id, wrong)} onChange={(event) => { onInput(event.currentTarget.value); }}>
        {choices.map(([own, words]) => <option key={own} value={own}>{words}</option>)}
      </select>
    </Labelled>
  );
}

export function wrongAttributes(id: string, wrong: string | null): Readonly<Record<string, string | undefined>> {
  return { 'aria-invalid': wrong === null ? undefined : 'true', 'aria-describedby': wrong === null ? undefined : `${id}-wrong` };
}

/** What is wrong with a field in words; `number` names its limits. */
export function wrongText(wrong: WrongField | undefined, number: NumberField | null): string | null {
  const say = wordsOf(jobWords);
  if (wrong === undefined) return null;
  if (wrong !== 'outOfRange') return say[wrong];
  const { low, high } = number === null ? { low: 0, high: 0 } : limitsOf(number);
  return say.outOfRange(formatNumber(low, decimalsOf(low)), formatNumber(high, decimalsOf(high)));
}

function decimalsOf(value: number): number {
  return String(value).split('.')[1]?.length ?? 0;
}
