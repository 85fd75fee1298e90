import { sql, type Kysely, type Selectable, type SelectQueryBuilder } from 'kysely';
import { pageOf, type Page, type PageRequest } from './page.js';
import { rowAsWritten, runSum } from './row-sum.js';
import { readSortKey, sortKey, sortValue, type RunSorting } from './run-order.js';
import type { Database, RunTable } from './tables.js';

/** Which runs are requested; a field left out filters nothing. */
export interface RunFilter {
  /** µs since 1970; `from <= startedAt < to`. */
  readonly from?: number | undefined;
  readonly to?: number | undefined;
  readonly site?: string | undefined;
  readonly carriage?: string | undefined;
  readonly state?: 'welding' | 'finished' | undefined;
  readonly seam?: string | undefined;
  readonly run?: number | undefined;
  readonly assigned?: boolean | undefined;
  /** The procedure that the assignment names, whether it exists or not. */
  readonly procedure?: string | undefined;
  readonly operator?: string | undefined;
  /** A lot of flux or wire. */
  readonly lot?: string | undefined;
  /** Whether there are any. */
  readonly excursions?: boolean | undefined;
  readonly complete?: boolean | undefined;
  readonly judged?: boolean | undefined;
  /** Words separated by spaces; seam or carriage must contain each of them, regardless of the case of ASCII letters. */
  readonly search?: string | undefined;
}

export type StoredRun = Selectable<RunTable>;

/** Answers give times rounded to the ms, and filters must match what was answered. */
export const halfMillisecond = 500;

export type FoundRun = Pick<StoredRun, 'id' | 'started' | 'record' | 'record_sum' | 'record_shape'>;

/** Runs as JSON texts of their API form. */
export async function listRuns(records: Kysely<Database>, filter: RunFilter, page: PageRequest, sorting: RunSorting): Promise<Page<FoundRun>> {
  const { limit, after } = page;
  if (sorting.order === 'startedAt' && sorting.direction === 'desc') {
    let query = filtered(records, filter).select(['id', 'started', 'record', 'record_sum', 'record_shape']);
    if (after !== null) query = query.where((eb) => eb(eb.refTuple('started', 'id'), '<', eb.tuple(after.at, after.id)));
    const rows = await query.orderBy('started', 'desc').orderBy('id', 'desc').limit(limit + 1).execute();
    return pageOf(rows, limit, (row) => ({ at: row.started, id: row.id }));
  }
  const { direction } = sorting;
  const value = sortValue(sorting);
  // The sort keys are read from the index; records are read for one page only.
  let keys = filtered(records, filter).select(['id', 'started', value.as('value')]);
  const from = after === null ? undefined : readSortKey(after);
  if (from !== undefined) {
    const [sign, ties] = direction === 'asc' ? [sql.raw('>'), sql.raw('<')] : [sql.raw('<'), sql.raw('<')];
    keys = keys.where(sql<boolean>`(${value} ${sign} ${from.value} or (${value} = ${from.value} and (started, id) ${ties} (${from.started}, ${from.id})))`);
  }
  const sorted = keys.orderBy(value, direction).orderBy('started', 'desc').orderBy('id', 'desc').limit(limit + 1);
  const rows = await records.selectFrom(sorted.as('sorted')).innerJoin('runs', 'runs.id', 'sorted.id')
    .select(['runs.id', 'runs.started', 'runs.record', 'runs.record_sum', 'runs.record_shape', 'sorted.value'])
    .orderBy('sorted.value', direction).orderBy('runs.started', 'desc').orderBy('runs.id', 'desc')
    .execute();
  return pageOf(rows, limit, (row) => sortKey(row.value, row.started, row.id));
}

function filtered(records: Kysely<Database>, filter: RunFilter): SelectQueryBuilder<Database, 'runs', object> {
  let query: SelectQueryBuilder<Database, 'runs', object> = records.selectFrom('runs');
  if (filter.from !== undefined) query = query.where('started', '>=', filter.from - halfMillisecond);
  if (filter.to !== undefined) query = query.where('started', '<', filter.to - halfMillisecond);
  for (const name of ['site', 'carriage', 'state', 'seam', 'run', 'procedure', 'operator'] as const) {
    const wanted = filter[name];
    if (wanted !== undefined) query = query.where(name, '=', wanted);
  }
  for (const name of ['assigned', 'complete', 'judged'] as const) {
    const wanted = filter[name];
    if (wanted !== undefined) query = query.where(name, '=', wanted ? 1 : 0);
  }
  if (filter.excursions !== undefined) query = query.where('excursions', filter.excursions ? '>' : '=', 0);
  if (filter.lot !== undefined) query = query.where(sql<boolean>`instr(lots, ${`\n${filter.lot}\n`}) > 0`);
  // The index that gives the order holds both columns, so that rows that do not match are skipped without being read.
  for (const word of (filter.search ?? '').split(/\s+/).filter((own) => own !== '')) {
    const held = `%${word.replaceAll(/[\\%_]/g, '\\$&')}%`;
    query = query.where((eb) => eb.or([sql<boolean>`seam LIKE ${held} ESCAPE '\\'`, sql<boolean>`carriage LIKE ${held} ESCAPE '\\'`]));
  }
  return query;
}

/** Throws an error of damage if it differs from what was written; its record is checked when it is read. */
export async function findRun(records: Kysely<Database>, id: string): Promise<StoredRun | undefined> {
  const run = await records.selectFrom('runs').selectAll().where('id', '=', id).executeTakeFirst();
  return run === undefined ? undefined : rowAsWritten(`run ${id}`, run, runSum);
}
