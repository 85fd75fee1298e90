import { setImmediate } from 'node:timers/promises';
import type { Kysely } from 'kysely';
import type { AnsweredRuns } from '../../shared/answers/answered-runs.js';
import { runValues, type RunValues } from '../../shared/answers/run-values.js';
import type { Run } from '../../shared/api-types/run.js';
import { endedRuns, type EndedFilter, type EndedRun } from '../../shared/records/ended-runs.js';
import { recordSum } from '../../shared/records/record-sum.js';
import type { Database } from '../../shared/records/tables.js';

export interface CapabilityRuns {
  /** In the order in which they ended. */
  readonly runs: readonly RunValues[];
  /** How many records differ from what was written, or cannot be read. */
  readonly unreadable: number;
}

/** Values of so many runs are remembered, at some hundred bytes each. */
const mostRemembered = 20_000;

interface Remembered {
  readonly sum: number;
  readonly values: RunValues;
}

/**
 * Reads the values of finished production runs. What was read of a record is remembered as long as the record stays as it is: to parse it, or to work out
 * what an earlier program did not record, takes longer than its checksum.
 */
export function capabilityReader(records: Kysely<Database>, answered: AnsweredRuns): (filter: EndedFilter) => Promise<CapabilityRuns> {
  const remembered = new Map<string, Remembered>();

  /** In the order of the rows; null where a record cannot be read. */
  async function valuesOf(rows: readonly EndedRun[]): Promise<(RunValues | null)[]> {
    const summed = rows.map((row) => ({ row, sum: recordSum(row.record) }));
    const found = new Map(summed.flatMap(({ row: { id }, sum }) => {
      const known = remembered.get(id);
      return known?.sum === sum ? [[id, known.values] as const] : [];
    }));
    const unknown = summed.filter(({ row }) => !found.has(row.id));
    const texts = unknown.length === 0 ? [] : await answered.records(unknown.map(({ row }) => row));
    for (const [at, { row, sum }] of unknown.entries()) {
      const values = readValues(texts[at] ?? '');
      if (values === null) continue;
      if (remembered.size >= mostRemembered) remembered.clear();
      remembered.set(row.id, { sum, values });
      found.set(row.id, values);
    }
    return rows.map(({ id }) => found.get(id) ?? null);
  }

  return async (filter) => {
    const runs: RunValues[] = [];
    let unreadable = 0;
    for await (const rows of endedRuns(records, filter)) {
      for (const values of await valuesOf(rows)) {
        if (values === null) unreadable += 1;
        else if (values.production) runs.push(values);
      }
      // Other requests are answered in between.
      await setImmediate();
    }
    return { runs, unreadable };
  };
}

/** Null for a text that a damaged store no longer gives as a record. */
function readValues(text: string): RunValues | null {
  try {
    return runValues(JSON.parse(text) as Run);
  } catch {
    return null;
  }
}
