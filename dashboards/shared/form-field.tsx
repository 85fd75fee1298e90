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
