import { signal } from '@preact/signals';
import type { ComponentChildren, JSX } from 'preact';
import { Mark } from './mark.js';
import { behindLabel } from './units.js';

interface FormFieldParts {
  readonly id: string;
  readonly label: string;
  readonly unit?: string;
  readonly wrong: string | null;
  readonly look?: string;
  readonly children: ComponentChildren;
}

/** A label, its control, and below them what is wrong. */
export function FormField({ id, label, unit = '', wrong, look = 'field', children }: FormFieldParts): JSX.Element {
  return (
    <div class={look}>
      <label for={id}>{label}{unit !== '' && <span class="unit">{behindLabel(unit)}</span>}</label>
      {children}
      {wrong !== null && <p class="wrong" id={`${id}-wrong`}><Mark name="warning" /> {wrong}</p>}
    </div>
  );
}

/** Attributes of a control inside a `FormField`. */
export function fieldAttributes(id: string, wrong: string | null): Readonly<Record<string, string | undefined>> {
  return { id, 'aria-invalid': wrong === null ? undefined : 'true', 'aria-describedby': wrong === null ? undefined : `${id}-wrong` };
}

/** A value and the text that people read for it. */
export type SelectChoice = readonly [value: string, text: string];

interface SelectFieldParts {
  readonly label: ComponentChildren;
  readonly value: string;
  readonly choices: readonly SelectChoice[];
  readonly name?: string;
  readonly look?: string;
  readonly onChoose?: (value: string) => void;
}

/** A labelled list from which one value is chosen. */
export function SelectField({ label, value, choices, name, look, onChoose }: SelectFieldParts): JSX.Element {
  return (
    <label class={look}>
      {label}
      <select name={name} value={value} onChange={onChoose && ((event) => { onChoose(event.currentTarget.value); })}>
        <Options choices={choices} />
      </select>
    </label>
  );
}

export function Options({ choices }: { readonly choices: readonly SelectChoice[] }): JSX.Element {
  return <>{choices.map(([value, text]) => <option key={value} value={value}>{text}</option>)}</>;
}

/** Handles the submission of a form without loading the page anew. */
export function handleSubmit(act: (form: HTMLFormElement) => void): (event: { readonly currentTarget: HTMLFormElement; readonly preventDefault: () => void }) => void {
  return (event) => {
    event.preventDefault();
    act(event.currentTarget);
  };
}

/** The name that was given last, until the page is loaded anew: a browser in a shop belongs to nobody in particular. */
export const personName = signal('');
