import type { ArcRow, RunRow } from '../weld/row.js';
import { arcColumns, arcRowAt, runColumns, runRowAt } from './row-columns.js';
import type { ArcColumns, Columns, RunColumns } from './row-columns.js';

/*
 * Rows as they are: one Float64 (little-endian) after the other, row by row. For rows that will soon be written
 * again (the provisional tail, what waits for its minute to fill up): packing those costs more than it saves.
 */

function write<Name extends string>(rows: readonly Readonly<Record<Name, number>>[], names: readonly Name[]): Buffer {
  const body = Buffer.allocUnsafe(rows.length * names.length * 8);
  let place = 0;
  for (const row of rows) for (const name of names) place = body.writeDoubleLE(row[name], place);
  return body;
}

function read<Name extends string>(body: Uint8Array, names: readonly Name[]): { count: number; columns: Columns<Name> } {
  const width = names.length * 8;
  const count = body.length / width;
  if (!Number.isInteger(count)) throw new Error(`stored rows are damaged: ${body.length} bytes are no whole number of rows of ${width} bytes`);
  const view = new DataView(body.buffer, body.byteOffset, body.length);
  const columns: Partial<Record<Name, Float64Array>> = {};
  for (const [position, name] of names.entries()) {
    const column = new Float64Array(count);
    for (let row = 0; row < count; row += 1) column[row] = view.getFloat64(row * width + position * 8, true);
    columns[name] = column;
  }
  return { count, columns: columns as Columns<Name> };
}

export function plainArcRows(rows: readonly ArcRow[]): Buffer {
  return write(rows, arcColumns);
}

export function plainRunRows(rows: readonly RunRow[]): Buffer {
  return write(rows, runColumns);
}

export function readPlainArcRows(body: Uint8Array): ArcRow[] {
  const { count, columns } = read<keyof ArcRow>(body, arcColumns);
  return Array.from({ length: count }, (_, row) => arcRowAt(columns satisfies ArcColumns, row));
}

export function readPlainRunRows(body: Uint8Array): RunRow[] {
  const { count, columns } = read<keyof RunRow>(body, runColumns);
  return Array.from({ length: count }, (_, row) => runRowAt(columns satisfies RunColumns, row));
}
