import { crc32 } from 'node:zlib';
import { otherThanWritten } from '../sqlite/damage.js';
import { readStored } from './damage.js';

/** What is stored beside a record: the CRC-32 (ISO 3309, as zlib has it) of its text in UTF-8. */
export function recordSum(record: string): number {
  return crc32(record);
}

interface Summed {
  readonly record: string;
  /** Null where an earlier version wrote it. */
  readonly record_sum: number | null;
}

export function isAsWritten({ record, record_sum: sum }: Summed): boolean {
  return sum === null || sum === recordSum(record);
}

/** What `read` makes of the record of a run. Throws an error of damage where it is other than it was written, or nothing that can be read. */
export function readRecord<Value>(run: Summed & { readonly id: string }, read: (record: unknown) => Value): Value {
  const what = `the record of run ${run.id}`;
  if (!isAsWritten(run)) throw otherThanWritten(what);
  return readStored(what, run.record, read);
}

/** Records for a list: of one that is other than it was written there is nothing to show, which is no JSON. */
export function shownRecords(rows: readonly Summed[]): string[] {
  return rows.map((row) => (isAsWritten(row) ? row.record : ''));
}
