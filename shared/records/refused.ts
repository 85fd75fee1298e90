import type { Kysely, Selectable } from 'kysely';
import { pageOf, type Page, type PageRequest } from './page.js';
import type { Database, RefusedTable } from './tables.js';

export interface RefusedPage extends Page<Selectable<RefusedTable>> {
  /** How many there are on all pages. */
  readonly total: number;
}

/** What was refused, the newest first; from `since` on, µs since 1970, where it is given. */
export async function listRefused(records: Kysely<Database>, page: PageRequest, since: number | null = null): Promise<RefusedPage> {
  const table = records.selectFrom('refused');
  const asked = since === null ? table : table.where('received', '>=', since);
  let query = asked.selectAll();
  if (page.after !== null) query = query.where('id', '<', page.after.at);
  const rows = await query.orderBy('id', 'desc').limit(page.limit + 1).execute();
  const { total } = await asked.select(({ fn }) => fn.countAll<number>().as('total')).executeTakeFirstOrThrow();
  return { ...pageOf(rows, page.limit, (row) => ({ at: row.id, id: '' })), total };
}
