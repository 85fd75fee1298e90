import type { Kysely, Selectable } from 'kysely';
import { pageOf, type Page, type PageRequest } from './page.js';
import { jobChangeSum, rowAsWritten } from './row-sum.js';
import type { Database, JobChangeTable } from './tables.js';

/** The changes of a run's job, the newest first. Throws an error of damage if one differs from what was written. */
export async function listJobChanges(records: Kysely<Database>, run: string, page: PageRequest): Promise<Page<Selectable<JobChangeTable>>> {
  let query = records.selectFrom('job_changes').selectAll().where('run_id', '=', run);
  if (page.after !== null) query = query.where('id', '<', page.after.at);
  const rows = await query.orderBy('id', 'desc').limit(page.limit + 1).execute();
  for (const row of rows) rowAsWritten(`who assigned run ${run}`, row, jobChangeSum);
  return pageOf(rows, page.limit, (row) => ({ at: row.id, id: '' }));
}
