import type { ComponentChildren, JSX } from 'preact';
import { Mark } from '../shared/mark.js';

/** A label with its control, and below it what is wrong. */
export function FormField({ label, id, wrong, children }: { readonly label: string; readonly id: string; readonly wrong: string | null; readonly children: ComponentChildren }): JSX.Element {
  return (
    <div class="field">
      <label for={id}>{label}</label>
      {children}
      {wrong !== null && <p class="wrong" id={`${id}-wrong`}><Mark name="warning" /> {wrong}</p>}
    </div>
  );
}

/** Attributes of a control whose label is a `FormField`. */
export function fieldAttributes(id: string, wrong: string | null): Readonly<Record<string, string | undefined>> {
  return { id, 'aria-invalid': wrong === null ? undefined : 'true', 'aria-describedby': wrong === null ? undefined : `${id}-wrong` };
}
