import { firstIndex } from '../weld/items/first-index.js';
import { arcColumns, runColumns, type ArcColumn, type RunColumn } from '../weld/rows/row.js';
import { startColumns } from './column-room.js';
import type { BorrowedColumns } from './kept-columns.js';
import { packPlainArcRows, packPlainRunRows, unpackArcColumns, unpackRunColumns } from './pack-columns.js';
import { plainBody, rowsInBody } from './plain-body.js';
import { plainArcColumns, plainOf, plainRunColumns } from './plain-rows.js';
import { arcFormats, runFormats } from './row-columns.js';

/** How rows of one kind are stored, exact to the last bit. */
export interface RowBytes {
  /** Bytes of one plain row, which begins with its index. */
  readonly width: number;
  /** `body` makes the stored body of plain rows (plain-body.ts); the next one gets the plain rows out of a body of any format. */
  body(plain: Uint8Array): Buffer;
  opened(body: Uint8Array): Uint8Array;
  /** Packs plain rows, and unpacks them again. */
  pack(plain: Uint8Array): Buffer;
  unpack(body: Uint8Array): Uint8Array;
}

export interface RowCodec<Name extends string> extends RowBytes {
  /** Both give columns that the next call overwrites; from packed rows, they include at least the wanted ones. */
  plainColumns(body: Uint8Array): BorrowedColumns<Name | 'index'>;
  unpackColumns(body: Uint8Array, wanted: readonly Name[]): BorrowedColumns<Name | 'index'>;
}

const arcRowsIn = (body: Uint8Array): Uint8Array => rowsInBody<ArcColumn>(body, arcColumns, arcFormats);
const runRowsIn = (body: Uint8Array): Uint8Array => rowsInBody<RunColumn>(body, runColumns, runFormats);

export const arcRowCodec: RowCodec<ArcColumn> = {
  width: 8 * arcColumns.length, body: (plain) => plainBody(plain, arcFormats), opened: arcRowsIn,
  pack: packPlainArcRows, unpack: (body) => allOf(unpackArcColumns(body), arcColumns),
  plainColumns: borrowed((body) => plainArcColumns(arcRowsIn(body))), unpackColumns: unpackArcColumns,
};

export const runRowCodec: RowCodec<RunColumn> = {
  width: 8 * runColumns.length, body: (plain) => plainBody(plain, runFormats), opened: runRowsIn,
  pack: packPlainRunRows, unpack: (body) => allOf(unpackRunColumns(body), runColumns),
  plainColumns: borrowed((body) => plainRunColumns(runRowsIn(body))), unpackColumns: unpackRunColumns,
};

function allOf<Name extends string>({ count, columns }: BorrowedColumns<Name>, names: readonly Name[]): Uint8Array {
  return plainOf(count, columns, names);
}

function borrowed<C>(read: (body: Uint8Array) => C): (body: Uint8Array) => C {
  return (body) => {
    startColumns();
    return read(body);
  };
}

/** The codec for the rows of an arc, or of the run itself. */
export function codecOf(arc: number): RowBytes {
  return arc === runArc ? runRowCodec : arcRowCodec;
}

export function plainIndex(body: Uint8Array, row: number, { width }: RowBytes): number {
  return new DataView(body.buffer, body.byteOffset).getFloat64(row * width, true);
}

/** How many of the plain rows come before an index. */
export function rowsBefore(body: Uint8Array, index: number, codec: RowBytes): number {
  return firstIndex(body.length / codec.width, (row) => plainIndex(body, row, codec) >= index);
}

/** Arc number under which a run's own rows are stored. */
export const runArc = 0;
