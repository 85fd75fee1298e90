import { sql, type Kysely } from 'kysely';
import type { Database } from './tables.js';

/** Names by which runs can be filtered, each once, in the order of their letters. */
type RunNames = Readonly<Record<'sites' | 'carriages' | 'seams' | 'procedures' | 'operators' | 'lots', readonly string[]>>;

/** The most names of each kind: those of the newest runs. */
export const mostNames = 1000;

/** The names that runs have, read from one index. */
export async function runNames(records: Kysely<Database>): Promise<RunNames> {
  const of = async (column: 'site' | 'carriage' | 'seam' | 'procedure' | 'operator' | 'lots'): Promise<string[]> => {
    const name = sql.ref(column);
    const found = await sql<{ name: string }>`select ${name} as name from runs where ${name} is not null group by ${name} order by max(started) desc limit ${mostNames}`.execute(records);
    return found.rows.map((row) => row.name);
  };
  const [sites, carriages, seams, procedures, operators, lots] = await Promise.all([of('site'), of('carriage'), of('seam'), of('procedure'), of('operator'), of('lots')]);
  const single = lots.flatMap((own) => own.split('\n').filter((lot) => lot !== ''));
  return { sites: sorted(sites), carriages: sorted(carriages), seams: sorted(seams), procedures: sorted(procedures), operators: sorted(operators), lots: sorted(single).slice(0, mostNames) };
}

function sorted(names: readonly string[]): string[] {
  return [...new Set(names)].sort((a, b) => a.localeCompare(b, 'en', { numeric: true }));
}
