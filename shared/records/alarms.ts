import { sql } from 'kysely';
import type { Kysely } from 'kysely';
import { pageOf } from './page.js';
import type { Page, PageRequest } from './page.js';
import type { AlarmTable, Database } from './tables.js';

/** Which alarms are asked for; what is left out filters nothing. */
export interface AlarmFilter {
  readonly state?: AlarmTable['state'] | undefined;
  readonly site?: string | undefined;
  readonly carriage?: string | undefined;
  readonly run?: string | undefined;
}

export interface ListedAlarm {
  readonly number: number;
  readonly id: string;
  readonly record: string;
}

/** Alarms as JSON texts of their API form, those raised last first. */
export async function listAlarms(records: Kysely<Database>, filter: AlarmFilter, page: PageRequest): Promise<Page<ListedAlarm>> {
  let query = records.selectFrom('alarms').select(['number', 'id', 'record']);
  if (filter.state !== undefined) query = query.where('state', '=', filter.state);
  if (filter.site !== undefined) query = query.where('site', '=', filter.site);
  if (filter.carriage !== undefined) query = query.where('carriage', '=', filter.carriage);
  if (filter.run !== undefined) query = query.where('run_id', '=', filter.run);
  const { after, limit } = page;
  if (after !== null) query = query.where('number', '<', after.at);
  const rows = await query.orderBy('number', 'desc').limit(limit + 1).execute();
  return pageOf(rows, limit, (row) => ({ at: row.number, id: '' }));
}

export async function findAlarm(records: Kysely<Database>, id: string): Promise<ListedAlarm | undefined> {
  return await records.selectFrom('alarms').select(['number', 'id', 'record']).where('id', '=', id).executeTakeFirst();
}

/** How many alarms of carriages are not back to normal, by priority and state. */
export async function countAlarms(records: Kysely<Database>): Promise<{ readonly priority: string | null; readonly state: string; readonly count: number }[]> {
  return await records
    .selectFrom('alarms')
    .select(({ fn }) => ['priority', 'state', fn.countAll<number>().as('count')])
    // As a literal: only so does the index of those apply.
    .where(sql<boolean>`state <> 'normal'`)
    .where('stream_id', 'is not', null)
    .groupBy(['priority', 'state'])
    .execute();
}
