import type { Kysely } from 'kysely';
import { readStored } from './damage.js';
import { densitySum, rowAsWritten } from './row-sum.js';
import type { Database } from './tables.js';

/** How long an arc of a run was in which cell: bin of voltage, bin of current, s; undefined where nothing shows it. Throws an error of damage if it differs from what was written. */
export async function readDensity(records: Kysely<Database>, run: string, arc: number): Promise<readonly (readonly [number, number, number])[] | undefined> {
  const row = await records.selectFrom('densities').selectAll().where('run_id', '=', run).where('arc', '=', arc).executeTakeFirst();
  if (row === undefined) return undefined;
  const what = `the density of arc ${arc} of run ${run}`;
  return readStored(what, rowAsWritten(what, row, densitySum).cells, (cells) => cells as readonly (readonly [number, number, number])[]);
}
