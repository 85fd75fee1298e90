import type { ArcRow, RunRow } from '../weld/row.js';
import { startColumns } from './column-room.js';
import type { LentColumns } from './kept-columns.js';
import { packPlainArcRows, packPlainRunRows, unpackArcColumns, unpackArcRows, unpackRunColumns, unpackRunRows } from './pack-columns.js';
import { plainArcRow, plainArcRows, plainRunRow, plainRunRows, plainArcColumns, plainRunColumns, readPlainArcRows, readPlainRunRows, withoutSum } from './plain-rows.js';

/** How rows of one kind become bytes and rows again, exact to the last bit. */
export interface RowCodec<Row extends { readonly index: number }> {
  plain(rows: readonly Row[]): Buffer;
  /** Of a stored body, with its sum or of the time before there were any; so is `plainColumns`. */
  readPlain(body: Uint8Array): Row[];
  /** Bytes of one plain row; its index comes first in it. */
  readonly width: number;
  /** Packs rows that are plain. */
  pack(body: Uint8Array): Buffer;
  unpack(body: Uint8Array): Row[];
  /** Both as columns that the next call overwrites; of packed ones those of the wanted names at least. */
  plainColumns(body: Uint8Array): LentColumns<keyof Row & string>;
  unpackColumns(body: Uint8Array, wanted: readonly (keyof Row & string)[]): LentColumns<keyof Row & string>;
}

export const arcRowCodec: RowCodec<ArcRow> = {
  plain: plainArcRows, readPlain: (body) => readPlainArcRows(withoutSum(body)), width: plainArcRow, pack: packPlainArcRows, unpack: unpackArcRows,
  plainColumns: lent(plainArcColumns), unpackColumns: unpackArcColumns,
};

export const runRowCodec: RowCodec<RunRow> = {
  plain: plainRunRows, readPlain: (body) => readPlainRunRows(withoutSum(body)), width: plainRunRow, pack: packPlainRunRows, unpack: unpackRunRows,
  plainColumns: lent(plainRunColumns), unpackColumns: unpackRunColumns,
};

function lent<C>(read: (body: Uint8Array) => C): (body: Uint8Array) => C {
  return (body) => {
    startColumns();
    return read(withoutSum(body));
  };
}

/** Index of a plain row. */
export function plainIndex(body: Uint8Array, row: number, { width }: { readonly width: number }): number {
  return new DataView(body.buffer, body.byteOffset).getFloat64(row * width, true);
}

/** Arc number under which a run's own rows are stored. */
export const runArc = 0;
