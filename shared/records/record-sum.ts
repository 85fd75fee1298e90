import { crc32 } from 'node:zlib';
import { changedSinceWritten } from '../sqlite/damage.js';
import { readStored } from './damage.js';

/** The checksum stored beside a record: the CRC-32 (ISO 3309, as in zlib) of its text in UTF-8. */
export function recordSum(record: string): number {
  return crc32(record);
}

interface Summed {
  readonly record: string;
  /** Null if an earlier version wrote it. */
  readonly record_sum: number | null;
}

export function isAsWritten({ record, record_sum: sum }: Summed): boolean {
  return sum === null || sum === recordSum(record);
}

/** The record of a run, parsed by `read`. Throws an error of damage if it differs from what was written, or cannot be read. */
export function readRecord<Value>(run: Summed & { readonly id: string }, read: (record: unknown) => Value): Value {
  const what = `the record of run ${run.id}`;
  if (!isAsWritten(run)) throw changedSinceWritten(what);
  return readStored(what, run.record, read);
}

/** Records for a list, as JSON; a record that differs from what was written becomes a text that is not JSON, so that the list leaves it out. */
export function shownRecords(rows: readonly Summed[]): string[] {
  return rows.map((row) => (isAsWritten(row) ? row.record : ''));
}
