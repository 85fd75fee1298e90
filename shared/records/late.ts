import type { Kysely, Selectable } from 'kysely';
import { pageOf } from './page.js';
import type { Page, PageRequest } from './page.js';
import type { Database, LateTable } from './tables.js';

/** Items that came too late to change a run, the newest first. */
export async function listLate(records: Kysely<Database>, run: string, page: PageRequest): Promise<Page<Selectable<LateTable>>> {
  let query = records.selectFrom('late').selectAll().where('run_id', '=', run);
  if (page.after !== null) query = query.where('id', '<', page.after.at);
  const rows = await query.orderBy('id', 'desc').limit(page.limit + 1).execute();
  return pageOf(rows, page.limit, (row) => ({ at: row.id, id: '' }));
}
