import { useContext } from 'preact/hooks';
import { noEntry, type Entry } from './entry.js';
import { FormProblems, type Section } from './form-context.js';
import { reasonText } from './reason-text.js';

export interface FieldAccess {
  readonly entry: Entry;
  /** What is wrong, in words; empty where nothing is. */
  readonly wrong: readonly string[];
  readonly ids: { readonly input: string; readonly hint: string; readonly wrong: string };
  /** Attributes that every input has; `hinted` says whether a hint is shown below it. */
  readonly attributes: (hinted: boolean) => Readonly<Record<string, string | boolean | undefined>>;
}

/** What an input needs to know of its field. */
export function useField(section: Section, name: string): FieldAccess {
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
