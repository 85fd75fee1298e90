import type { SqliteFile } from '../../shared/records/open-database.js';
import { procedureSum } from '../../shared/records/row-sum.js';

/** Stores revision 1 of a procedure (`first`) or the one after its newest. Returns the revision, or why there is none. `created` µs since 1970, `body` the checked procedure as JSON. */
export function addRevision(
  writer: SqliteFile,
  entry: { readonly id: string; readonly body: string; readonly by: string; readonly created: number; readonly first: boolean },
): { readonly revision: number } | 'exists' | 'unknown' {
  const newest = writer.prepare<[string], number | null>('SELECT max(revision) FROM procedures WHERE id = ?').pluck().get(entry.id) ?? 0;
  if (entry.first && newest > 0) return 'exists';
  if (!entry.first && newest === 0) return 'unknown';
  const revision = newest + 1;
  writer
    .prepare('INSERT INTO procedures (id, revision, created, "by", body, row_sum) VALUES (?, ?, ?, ?, ?, ?)')
    .run(entry.id, revision, entry.created, entry.by, entry.body, procedureSum({ ...entry, revision }));
  return { revision };
}
