import { sql, type Kysely, type Selectable } from 'kysely';
import { pageOf, type Page, type PageRequest } from './page.js';
import { procedureSum, rowAsWritten } from './row-sum.js';
import type { Database, ProcedureTable } from './tables.js';

export type StoredProcedure = Selectable<ProcedureTable>;

/** The newest revision of every procedure, those revised last first. Throws an error of damage if one differs from what was written; so does `findProcedure`. */
export async function listProcedures(records: Kysely<Database>, page: PageRequest): Promise<Page<StoredProcedure>> {
  let query = records.selectFrom('procedures as own').selectAll('own')
    .where('own.revision', '=', (eb) =>
      eb.selectFrom('procedures as other').select((of) => of.fn.max('other.revision').as('newest')).whereRef('other.id', '=', 'own.id'),
    );
  const { after, limit } = page;
  if (after !== null) query = query.where((eb) => eb(eb.refTuple('own.created', 'own.id'), '<', eb.tuple(after.at, after.id)));
  const rows = await query.orderBy('own.created', 'desc').orderBy('own.id', 'desc').limit(limit + 1).execute();
  for (const row of rows) rowAsWritten(`procedure ${row.id}`, row, procedureSum);
  return pageOf(rows, limit, (row) => ({ at: row.created, id: row.id }));
}

/** One revision of a procedure; the newest if none is named. */
export async function findProcedure(records: Kysely<Database>, id: string, revision?: number): Promise<StoredProcedure | undefined> {
  let query = records.selectFrom('procedures').selectAll().where('id', '=', id);
  if (revision !== undefined) query = query.where('revision', '=', revision);
  const found = await query.orderBy('revision', 'desc').limit(1).executeTakeFirst();
  return found === undefined ? undefined : rowAsWritten(`procedure ${id}`, found, procedureSum);
}

/** All revisions of a procedure, the newest first. Throws an error of damage if one differs from what was written. */
export async function listRevisions(records: Kysely<Database>, id: string): Promise<StoredProcedure[]> {
  const rows = await records.selectFrom('procedures').selectAll().where('id', '=', id).orderBy('revision', 'desc').execute();
  return rows.map((row) => rowAsWritten(`procedure ${id}`, row, procedureSum));
}

/** How many runs are recorded as welded to each revision of a procedure, in the order of revisions; those of none are not listed. */
export async function countRuns(records: Kysely<Database>, id: string): Promise<{ readonly revision: number; readonly runs: number }[]> {
  const revision = sql<number>`json_extract(record, '$.procedure.revision')`;
  return await records.selectFrom('runs').select([revision.as('revision'), (of) => of.fn.countAll<number>().as('runs')])
    .where('procedure', '=', id)
    .where(sql<string>`json_extract(record, '$.procedure.id')`, '=', id)
    .groupBy(revision)
    .orderBy(revision)
    .execute();
}
