import type { ArcRow, RunRow } from '../weld/row.js';
import { packPlainArcRows, packPlainRunRows, unpackArcRows, unpackRunRows } from './pack-columns.js';
import { plainArcRow, plainArcRows, plainRunRow, plainRunRows, readPlainArcRows, readPlainRunRows } from './plain-rows.js';

/** How rows of one kind become bytes and rows again, exact to the last bit. */
export interface RowCodec<Row extends { readonly index: number }> {
  plain(rows: readonly Row[]): Buffer;
  readPlain(body: Uint8Array): Row[];
  /** Bytes of one plain row; its index comes first in it. */
  readonly width: number;
  /** Packs rows that are plain. */
  pack(body: Uint8Array): Buffer;
  unpack(body: Uint8Array): Row[];
}

export const arcRowCodec: RowCodec<ArcRow> = {
  plain: plainArcRows, readPlain: readPlainArcRows, width: plainArcRow, pack: packPlainArcRows, unpack: unpackArcRows,
};

export const runRowCodec: RowCodec<RunRow> = {
  plain: plainRunRows, readPlain: readPlainRunRows, width: plainRunRow, pack: packPlainRunRows, unpack: unpackRunRows,
};

/** Index of a plain row. */
export function plainIndex(body: Buffer, row: number, { width }: { readonly width: number }): number {
  return body.readDoubleLE(row * width);
}

/** Arc number under which a run's own rows are stored. */
export const runArc = 0;
