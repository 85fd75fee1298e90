import { createContext } from 'preact';
import type { Entry } from './entry.js';
import type { Fields } from './draft.js';
import type { Reason } from './field-problem.js';

/** What is wrong in a form, by the path of the input that shows it. */
export const FormProblems = createContext<ReadonlyMap<string, readonly Reason[]>>(new Map());

/** A part of the form: its entries, and what precedes their names in the API's paths. */
export interface Section {
  readonly prefix: string;
  readonly fields: Fields;
  readonly set: (name: string, entry: Entry) => void;
}
