import type { Draft, Fields } from './draft.js';
import { localName, specOf } from './field-specs.js';

/** What was typed and not saved, and on top of which revision. */
export interface KeptDraft {
  readonly base: number | null;
  readonly draft: Draft;
}

const keyOf = (id: string | null): string => `seamwarden.procedure.1.${id ?? ''}`;

/** Keeps what is typed for as long as the tab lives, so that a reload or another page in between loses nothing. A browser may deny that. */
export function keepDraft(id: string | null, kept: KeptDraft): void {
  try {
    sessionStorage.setItem(keyOf(id), JSON.stringify(kept));
  } catch {
    // It stands in the form all the same.
  }
}

export function dropDraft(id: string | null): void {
  try {
    sessionStorage.removeItem(keyOf(id));
  } catch {
    // Nothing was kept then.
  }
}

export function readDraft(id: string | null): KeptDraft | null {
  try {
    const text = sessionStorage.getItem(keyOf(id));
    if (text === null) return null;
    const { base, draft } = JSON.parse(text) as KeptDraft;
    return {
      base,
      draft: {
        fields: whole(draft.fields),
        groups: draft.groups.map((group) => ({ ...group, fields: whole(group.fields), arcs: group.arcs.map((arc) => ({ ...arc, fields: whole(arc.fields) })) })),
      },
    };
  } catch {
    return null;
  }
}

/** JSON has no NaN: a text that is no number came back with no value. */
function whole(fields: Fields): Fields {
  return Object.fromEntries(
    Object.entries(fields).map(([name, entry]) => {
      const lost = entry.value === null && (entry.text ?? '').trim() !== '' && specOf(localName(name)).is === 'number';
      return [name, lost ? { ...entry, value: Number.NaN } : entry];
    }),
  );
}
