import type { RunEntry } from './stream-state.js';

/** What of a run's entry is stored as its span. */
export type SavedSpan = Pick<RunEntry, 'ordinal' | 'epoch' | 'start' | 'revisedAt' | 'revision' | 'first' | 'to' | 'lastOn'>;

export function savedSpan(entry: RunEntry): string {
  const { ordinal, epoch, start, revisedAt, revision, first, to, lastOn } = entry;
  return JSON.stringify({ ordinal, epoch, start, revisedAt, revision, first, to, lastOn } satisfies SavedSpan);
}

/** All that is stored of a run's present state, for seeing whether it has changed. */
export function savedText({ record, marks, span }: { readonly record: string; readonly marks: string; readonly span: string }): string {
  return [record, marks, span].join('\n');
}
