import type { Procedure } from '../../shared/api-types/procedure.js';
import { readStored, writeStored } from '../shared/browser-storage.js';
import type { Draft, Fields } from './draft.js';
import { localName, specOf } from './field-specs.js';

/** A draft that was not saved, and the revision on which it is based. */
export interface KeptDraft { readonly base: number | null; readonly draft: Draft }

const keyOf = (name: string): string => `seamwarden.procedure.1.${name}`;

/** The name under which a draft is kept: the id for revisions, a name that no id can have for a copy, and none for an empty new procedure. */
export function draftName(newest: Procedure | null, copied: Procedure | null): string {
  return newest?.id ?? (copied === null ? '' : `+${copied.id}@${copied.revision}`);
}

/** Keeps what is typed for as long as the tab lives, so that a reload or a visit to another page loses nothing. */
export function keepDraft(name: string, kept: KeptDraft): void {
  writeStored(keyOf(name), JSON.stringify(kept), 'sessionStorage');
}

export function dropDraft(name: string): void {
  writeStored(keyOf(name), null, 'sessionStorage');
}

export function readDraft(name: string): KeptDraft | null {
  try {
    const text = readStored(keyOf(name), 'sessionStorage');
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

/** JSON has no NaN, so a text that is not a number came back without a value. */
function whole(fields: Fields): Fields {
  return Object.fromEntries(
    Object.entries(fields).map(([name, entry]) => {
      const lost = entry.value === null && (entry.text ?? '').trim() !== '' && specOf(localName(name)).is === 'number';
      return [name, lost ? { ...entry, value: Number.NaN } : entry];
    }),
  );
}
