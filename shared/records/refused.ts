import type { Kysely, Selectable } from 'kysely';
import { pageOf } from './page.js';
import type { Page, PageRequest } from './page.js';
import type { Database, RefusedTable } from './tables.js';

/** What was refused, the newest first. */
export async function listRefused(records: Kysely<Database>, page: PageRequest): Promise<Page<Selectable<RefusedTable>>> {
  let query = records.selectFrom('refused').selectAll();
  if (page.after !== null) query = query.where('id', '<', page.after.at);
  const rows = await query.orderBy('id', 'desc').limit(page.limit + 1).execute();
  return pageOf(rows, page.limit, (row) => ({ at: row.id, id: '' }));
}
