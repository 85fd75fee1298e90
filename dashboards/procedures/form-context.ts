import { createContext } from 'preact';
import type { Fields } from './draft.js';
import type { Entry } from './entry.js';
import type { Reason } from './field-problem.js';

/** What all fields of a form share. */
export interface FormState {
  /** By the path of the input at which it is told. */
  readonly wrong: ReadonlyMap<string, readonly Reason[]>;
}

export const FormContext = createContext<FormState>({ wrong: new Map() });

/** A part of the form: its entries, and what stands before their names in the API's paths. */
export interface Section {
  readonly prefix: string;
  readonly fields: Fields;
  readonly set: (name: string, entry: Entry) => void;
}
