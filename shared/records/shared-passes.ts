import type { Kysely } from 'kysely';
import type { Database } from './tables.js';

/** Which of some runs lie along a seam under a number that another carriage has as well, or an imported log. */
export async function sharedPasses(records: Kysely<Database>, ids: readonly string[]): Promise<ReadonlySet<string>> {
  // The least and the greatest are found by one look into the index each, however many runs there are.
  const rows = await records.selectFrom('runs as own').select('own.id').where('own.id', 'in', ids).where('own.seam', 'is not', null)
    .where((eb) => {
      const along = eb.selectFrom('runs as other').whereRef('other.seam', '=', 'own.seam').whereRef('other.run', '=', 'own.run');
      return eb(along.select((of) => of.fn.min('other.stream_id').as('least')), '<>', along.select((of) => of.fn.max('other.stream_id').as('greatest')));
    })
    .execute();
  return new Set(rows.map(({ id }) => id));
}
