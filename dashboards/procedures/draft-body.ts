import { partsOf, type Draft, type Fields } from './draft.js';
import { numberProblem } from './entry.js';
import { specOf } from './field-specs.js';
import type { FieldProblem } from './field-problem.js';

export interface Json { [name: string]: string | number | Json | (string | number | Json | undefined)[] }

/** The draft as the API expects it, and the fields whose text is not a number. Nothing else is checked here. */
export function bodyOf(draft: Draft): { readonly body: Json; readonly wrong: FieldProblem[] } {
  const wrong: FieldProblem[] = [];
  const body: Json = {};
  write(body, draft.fields, '', wrong);
  if (draft.groups.length > 0) {
    body['runGroups'] = draft.groups.map(({ fields, arcs }, at) => {
      const group: Json = { runs: [] };
      write(group, fields, `runGroups[${at}].`, wrong);
      if (arcs.length > 0) {
        group['arcs'] = arcs.map((arc, arcAt) => {
          const own: Json = {};
          write(own, arc.fields, `runGroups[${at}].arcs[${arcAt}].`, wrong);
          return own;
        });
      }
      // A missing run number is missing at its own place.
      const [first, last] = group['runs'] as (number | undefined)[];
      group['runs'] = [first, last];
      return group;
    });
  }
  return { body, wrong };
}

function write(into: Json, fields: Fields, prefix: string, wrong: FieldProblem[]): void {
  for (const [name, entry] of Object.entries(fields)) {
    const { text, value } = entry;
    if (specOf(name).is === 'text') {
      const own = (text ?? '').trim();
      if (own !== '') put(into, partsOf(name), own);
    } else if (Number.isNaN(value)) wrong.push({ field: prefix + name, reason: { is: numberProblem(entry) } });
    else if (value !== null) put(into, partsOf(name), value);
  }
}

function put(into: Json, path: readonly string[], value: string | number): void {
  const [name = '', ...rest] = path;
  if (rest.length === 0) {
    into[name] = value;
    return;
  }
  const held = into[name];
  const below = typeof held === 'object' ? (held as Json) : {};
  into[name] = below;
  put(below, rest, value);
}
