import type { Kysely, Selectable } from 'kysely';
import { pageOf, type Page, type PageRequest } from './page.js';
import { lateSum, rowAsWritten } from './row-sum.js';
import type { Database, LateTable } from './tables.js';

/** Items that came too late to change a run, the newest first. Throws an error of damage if one differs from what was written. */
export async function listLate(records: Kysely<Database>, run: string, page: PageRequest): Promise<Page<Selectable<LateTable>>> {
  let query = records.selectFrom('late').selectAll().where('run_id', '=', run);
  if (page.after !== null) query = query.where('id', '<', page.after.at);
  const rows = await query.orderBy('id', 'desc').limit(page.limit + 1).execute();
  for (const row of rows) rowAsWritten(`a late item of run ${run}`, row, lateSum);
  return pageOf(rows, page.limit, (row) => ({ at: row.id, id: '' }));
}
