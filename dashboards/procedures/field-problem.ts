import { localName, specOf } from './field-specs.js';
import { procedureWords } from './procedure-words.js';
import { valueText } from './value-text.js';

/** What is wrong with a field, so that it can be said in any language and unit; limits are in the API's unit. */
export type Reason =
  | { readonly is: 'noNumber' | 'thousands' | 'needed' | 'whole' | 'idShape' | 'minOverMax' | 'runsOrder' | 'arcTwice' | 'taken' }
  | { readonly is: 'atLeast' | 'moreThan' | 'atMost' | 'tooLong' | 'tooMany'; readonly limit: number }
  /** In the words of the service, or of the schema if nothing better is known. */
  | { readonly is: 'said'; readonly text: string };

export interface FieldProblem {
  /** As the API names it: `runGroups[0].arcs[1].current.min`. */
  readonly field: string;
  readonly reason: Reason;
}

/** The input at which a problem is shown: its own, or else the first one below it. */
export function inputFor(field: string, inputs: readonly string[]): string | undefined {
  return inputs.find((own) => own === field) ?? inputs.find((own) => own.startsWith(`${field}.`) || own.startsWith(`${field}[`));
}

/** What is wrong at an input, in the chosen language and unit. */
export function reasonText(reason: Reason, path: string): string {
  const say = procedureWords();
  const { quantity } = specOf(localName(path));
  switch (reason.is) {
    case 'atLeast':
    case 'moreThan':
    case 'atMost': return say[reason.is](valueText(quantity, reason.limit));
    case 'tooLong':
    case 'tooMany': return say[reason.is](reason.limit);
    case 'said': return say.serviceSays(reason.text.replace(/\.$/, ''));
    case 'needed':
      if (path === 'id') return say.idNeeded;
      return path === 'by' ? say.nameNeeded : say.required;
    default: return say[reason.is];
  }
}
