import type { Kysely } from 'kysely';
import { halfMillisecond, type FoundRun } from './runs.js';
import type { Database } from './tables.js';

/** Which finished runs are wanted: those whose assignment names a procedure. */
export interface EndedFilter {
  readonly procedure: string;
  /** µs since 1970; `from <= endedAt < to`, open where left out. */
  readonly from?: number | undefined;
  readonly to?: number | undefined;
  /** Whether invented runs are wanted as well. */
  readonly simulated: boolean;
}

export type EndedRun = FoundRun & { readonly ended: number };

/** So many runs are read at a time, so that other requests are answered in between. */
const atATime = 200;

/** Finished runs in the order in which they ended (those of one moment by their ids), some at a time. */
export async function* endedRuns(records: Kysely<Database>, filter: EndedFilter): AsyncGenerator<readonly EndedRun[], void> {
  for (let after: EndedRun | undefined; ;) {
    const rows: readonly EndedRun[] = await pageAfter(records, filter, after);
    if (rows.length > 0) yield rows;
    if (rows.length < atATime) return;
    after = rows.at(-1);
  }
}

async function pageAfter(records: Kysely<Database>, { procedure, from, to, simulated }: EndedFilter, after: EndedRun | undefined): Promise<readonly EndedRun[]> {
  let query = records.selectFrom('runs').select(['id', 'started', 'ended', 'record', 'record_sum', 'record_shape'])
    .where('procedure', '=', procedure).where('ended', 'is not', null).where('state', '=', 'finished');
  if (from !== undefined) query = query.where('ended', '>=', from - halfMillisecond);
  if (to !== undefined) query = query.where('ended', '<', to - halfMillisecond);
  if (!simulated) query = query.where('simulated', '=', 0);
  if (after !== undefined) query = query.where((eb) => eb(eb.refTuple('ended', 'id'), '>', eb.tuple(after.ended, after.id)));
  return await query.orderBy('ended').orderBy('id').limit(atATime).$narrowType<{ ended: number }>().execute();
}
