import { sql } from 'kysely';
import type { Kysely, Selectable } from 'kysely';
import { pageOf } from './page.js';
import type { Page, PageRequest } from './page.js';
import type { Database, RunTable } from './tables.js';

/** Which runs are asked for; what is left out filters nothing. */
export interface RunFilter {
  /** µs since 1970; `from <= startedAt < to`. */
  readonly from?: number | undefined;
  readonly to?: number | undefined;
  readonly site?: string | undefined;
  readonly carriage?: string | undefined;
  readonly state?: 'welding' | 'finished' | undefined;
  readonly seam?: string | undefined;
  readonly assigned?: boolean | undefined;
  /** Words that are parted by spaces; seam or carriage holds each of them, small and capital letters of ASCII alike. */
  readonly search?: string | undefined;
}

export type StoredRun = Selectable<RunTable>;

/** Answers give times rounded to the ms, and what a filter says must fit what was answered. */
const halfMillisecond = 500;

/** Runs as JSON texts of their API form, those begun last first. */
export async function listRuns(records: Kysely<Database>, filter: RunFilter, page: PageRequest): Promise<Page<Pick<StoredRun, 'id' | 'started' | 'record'>>> {
  let query = records.selectFrom('runs').select(['id', 'started', 'record']);
  if (filter.from !== undefined) query = query.where('started', '>=', filter.from - halfMillisecond);
  if (filter.to !== undefined) query = query.where('started', '<', filter.to - halfMillisecond);
  if (filter.site !== undefined) query = query.where('site', '=', filter.site);
  if (filter.carriage !== undefined) query = query.where('carriage', '=', filter.carriage);
  if (filter.state !== undefined) query = query.where('state', '=', filter.state);
  if (filter.seam !== undefined) query = query.where('seam', '=', filter.seam);
  if (filter.assigned !== undefined) query = query.where('assigned', '=', filter.assigned ? 1 : 0);
  // The index that gives the order holds both columns, so that rows which do not fit are passed over without being read.
  for (const word of (filter.search ?? '').split(/\s+/).filter((own) => own !== '')) {
    const held = `%${word.replaceAll(/[\\%_]/g, '\\$&')}%`;
    query = query.where((eb) => eb.or([sql<boolean>`seam LIKE ${held} ESCAPE '\\'`, sql<boolean>`carriage LIKE ${held} ESCAPE '\\'`]));
  }
  const { after, limit } = page;
  if (after !== null) query = query.where((eb) => eb(eb.refTuple('started', 'id'), '<', eb.tuple(after.at, after.id)));
  const rows = await query.orderBy('started', 'desc').orderBy('id', 'desc').limit(limit + 1).execute();
  return pageOf(rows, limit, (row) => ({ at: row.started, id: row.id }));
}

export async function findRun(records: Kysely<Database>, id: string): Promise<StoredRun | undefined> {
  return await records.selectFrom('runs').selectAll().where('id', '=', id).executeTakeFirst();
}
