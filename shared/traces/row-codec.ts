import { firstIndex } from '../weld/items/first-index.js';
import { arcColumns, runColumns, type ArcColumn, type RunColumn } from '../weld/rows/row.js';
import { startColumns } from './column-room.js';
import type { BorrowedColumns } from './kept-columns.js';
import { packPlainArcRows, packPlainRunRows, unpackArcColumns, unpackRunColumns } from './pack-columns.js';
import { plainBody, rowsInBody } from './plain-body.js';
import { plainColumns, plainOf } from './plain-rows.js';
import { arcFormats, runFormats, type PlainFormat } from './row-columns.js';

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

function rowCodec<Name extends string>(
  names: readonly (Name | 'index')[], formats: readonly PlainFormat<Name | 'index'>[], pack: RowBytes['pack'],
  unpackColumns: (body: Uint8Array, wanted?: readonly Name[]) => BorrowedColumns<Name | 'index'>,
): RowCodec<Name> {
  const opened = (body: Uint8Array): Uint8Array => rowsInBody(body, names, formats);
  return {
    width: 8 * names.length, body: (plain) => plainBody(plain, formats), opened, pack, unpackColumns,
    unpack(body) {
      const { count, columns } = unpackColumns(body);
      return plainOf(count, columns, names);
    },
    plainColumns(body) {
      startColumns();
      return plainColumns(opened(body), names);
    },
  };
}

export const arcRowCodec: RowCodec<ArcColumn> = rowCodec<ArcColumn>(arcColumns, arcFormats, packPlainArcRows, unpackArcColumns);
export const runRowCodec: RowCodec<RunColumn> = rowCodec<RunColumn>(runColumns, runFormats, packPlainRunRows, unpackRunColumns);

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
