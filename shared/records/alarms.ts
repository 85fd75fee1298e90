import { sql, type Kysely, type Selectable, type SelectQueryBuilder } from 'kysely';
import { pageOf, type Page, type PageRequest } from './page.js';
import type { AlarmTable, Database } from './tables.js';

/** Which alarms are requested; a field left out filters nothing. */
export interface AlarmFilter {
  readonly state?: AlarmTable['state'] | undefined;
  readonly site?: string | undefined;
  readonly carriage?: string | undefined;
  readonly run?: string | undefined;
  /** Whether its cause still lasts. */
  readonly active?: boolean | undefined;
  readonly priority?: Exclude<AlarmTable['priority'], null> | undefined;
  /** The whole name. */
  readonly seam?: string | undefined;
  /** By when the service heard of it, µs since 1970; the end is not part of it. */
  readonly from?: number | undefined;
  readonly to?: number | undefined;
}

type ListedAlarm = Pick<Selectable<AlarmTable>, 'number' | 'id' | 'record' | 'record_sum'>;

export interface AlarmPage extends Page<ListedAlarm> {
  /** How many items the filter matches on all pages. */
  readonly total: number;
}

/** Alarms as JSON texts of their API form, those raised last first. */
export async function listAlarms(records: Kysely<Database>, filter: AlarmFilter, page: PageRequest): Promise<AlarmPage> {
  const { after, limit } = page;
  let query = filtered(records.selectFrom('alarms').select(['number', 'id', 'record', 'record_sum']), filter);
  if (after !== null) query = query.where('number', '<', after.at);
  const rows = await query.orderBy('number', 'desc').limit(limit + 1).execute();
  const { total } = await filtered(records.selectFrom('alarms').select(({ fn }) => fn.countAll<number>().as('total')), filter).executeTakeFirstOrThrow();
  return { ...pageOf(rows, limit, (row) => ({ at: row.number, id: '' })), total };
}

function filtered<O>(asked: SelectQueryBuilder<Database, 'alarms', O>, filter: AlarmFilter): SelectQueryBuilder<Database, 'alarms', O> {
  let query = asked;
  for (const name of ['state', 'site', 'carriage', 'priority', 'seam'] as const) {
    const wanted = filter[name];
    if (wanted !== undefined) query = query.where(name, '=', wanted);
  }
  if (filter.run !== undefined) query = query.where('run_id', '=', filter.run);
  // As a literal, because only then the partial index applies.
  if (filter.active !== undefined) query = query.where(filter.active ? sql<boolean>`over = 0` : sql<boolean>`over <> 0`);
  if (filter.from !== undefined) query = query.where('recorded', '>=', filter.from);
  if (filter.to !== undefined) query = query.where('recorded', '<', filter.to);
  return query;
}

export async function findAlarm(records: Kysely<Database>, id: string): Promise<ListedAlarm | undefined> {
  return await records.selectFrom('alarms').select(['number', 'id', 'record', 'record_sum']).where('id', '=', id).executeTakeFirst();
}

/** How many alarms of carriages are not back to normal, by priority and state. */
export async function countAlarms(records: Kysely<Database>): Promise<{ readonly priority: string | null; readonly state: string; readonly count: number }[]> {
  return await records.selectFrom('alarms').select(({ fn }) => ['priority', 'state', fn.countAll<number>().as('count')])
    // As a literal, because only then the partial index applies.
    .where(sql<boolean>`state <> 'normal'`)
    .where('stream_id', 'is not', null)
    .groupBy(['priority', 'state'])
    .execute();
}
