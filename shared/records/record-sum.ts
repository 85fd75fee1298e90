import { crc32 } from 'node:zlib';
import { damageError } from '../sqlite/damage.js';

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

/** Throws an error of damage where the record is other than it was written. */
export function asWritten(what: string, row: Summed): string {
  if (!isAsWritten(row)) throw damageError('seamwarden.db', what, new Error('it is other than its checksum says'));
  return row.record;
}

/** Records for a list: of one that is other than it was written there is nothing to show, which is no JSON. */
export function shownRecords(rows: readonly Summed[]): string[] {
  return rows.map((row) => (isAsWritten(row) ? row.record : ''));
}
