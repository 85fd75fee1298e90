import type { ArcRow, RunRow } from '../weld/row.js';
import { packArcRows, packRunRows, unpackArcRows, unpackRunRows } from './pack-columns.js';
import { plainArcRows, plainRunRows, readPlainArcRows, readPlainRunRows } from './plain-rows.js';

/** How rows of one kind become bytes and rows again, exact to the last bit. */
export interface RowCodec<Row extends { readonly index: number }> {
  plain(rows: readonly Row[]): Buffer;
  readPlain(body: Uint8Array): Row[];
  pack(rows: readonly Row[]): Buffer;
  unpack(body: Uint8Array): Row[];
}

export const arcRowCodec: RowCodec<ArcRow> = { plain: plainArcRows, readPlain: readPlainArcRows, pack: packArcRows, unpack: unpackArcRows };

export const runRowCodec: RowCodec<RunRow> = { plain: plainRunRows, readPlain: readPlainRunRows, pack: packRunRows, unpack: unpackRunRows };

/** Arc number under which a run's own rows are stored. */
export const runArc = 0;
