import { endianness } from 'node:os';
import { recordOf } from '../weld/rows/record-of.js';
import { bareColumn } from './column-room.js';
import type { Columns } from './row-columns.js';

/*
 * Rows as they are: one Float64 (little-endian) after the other, row by row. This is for rows that will soon be written again (the provisional tail,
 * and rows that wait for their minute to fill up): packing those costs more than it saves. These rows have today's columns; plain-body.ts says how
 * they are stored, and extends rows that were stored with fewer columns.
 */

const swapped = endianness() === 'BE';

/** Numeric rows as plain bytes. They usually share memory with `rows`, which must not change any more. */
export function plainBytes(rows: Float64Array): Buffer {
  const bytes = Buffer.from(rows.buffer, rows.byteOffset, rows.byteLength);
  return swapped ? Buffer.from(bytes).swap64() : bytes;
}

/** Plain rows in columns; see column-room.ts for how long they are valid. */
export function plainColumns<Name extends string>(body: Uint8Array, names: readonly Name[]): { count: number; columns: Columns<Name> } {
  const width = names.length;
  const count = body.length / (8 * width);
  if (!Number.isInteger(count)) throw new Error(`stored rows are damaged: ${body.length} bytes are no whole number of rows of ${8 * width} bytes`);
  // The bytes are copied, since bytes from the database may not be aligned for numbers.
  const bytes = Buffer.from(new ArrayBuffer(body.length));
  bytes.set(body);
  if (swapped) bytes.swap64();
  const numbers = new Float64Array(bytes.buffer);
  const columns = recordOf(names, (_name, position) => {
    const column = bareColumn(count);
    for (let row = 0, place = position; row < count; row += 1, place += width) column[row] = numbers[place] ?? 0;
    return column;
  });
  return { count, columns };
}

/** Writes columns as plain rows. */
export function plainOf<Name extends string>(count: number, columns: Columns<Name>, names: readonly Name[]): Buffer {
  const width = names.length;
  const rows = new Float64Array(count * width);
  for (const [position, name] of names.entries()) {
    const column = columns[name];
    for (let row = 0, place = position; row < count; row += 1, place += width) rows[place] = column[row] ?? 0;
  }
  return plainBytes(rows);
}
