import type { ArcRow, RunRow } from '../weld/row.js';
import { startColumns } from './column-room.js';
import type { LentColumns } from './kept-columns.js';
import { packPlainArcRows, packPlainRunRows, unpackArcColumns, unpackArcRows, unpackRunColumns, unpackRunRows } from './pack-columns.js';
import { plainBody, rowsInBody } from './plain-body.js';
import { plainArcRow, plainArcRows, plainRunRow, plainRunRows, plainArcColumns, plainRunColumns, readPlainArcRows, readPlainRunRows } from './plain-rows.js';
import { arcColumns, arcFormats, runColumns, runFormats } from './row-columns.js';

/** How rows of one kind become bytes and rows again, exact to the last bit. */
export interface RowCodec<Row extends { readonly index: number }> {
  plain(rows: readonly Row[]): Buffer;
  /** The stored body of plain rows (plain-body.ts), and the plain rows of one of any format. */
  body(plain: Uint8Array): Buffer;
  opened(body: Uint8Array): Uint8Array;
  /** Of a stored body, as `plainColumns`. */
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

const arcRowsIn = (body: Uint8Array): Uint8Array => rowsInBody<keyof ArcRow>(body, arcColumns, arcFormats);
const runRowsIn = (body: Uint8Array): Uint8Array => rowsInBody<keyof RunRow>(body, runColumns, runFormats);

export const arcRowCodec: RowCodec<ArcRow> = {
  plain: plainArcRows, body: (plain) => plainBody(plain, arcFormats), opened: arcRowsIn, readPlain: (body) => readPlainArcRows(arcRowsIn(body)),
  width: plainArcRow, pack: packPlainArcRows, unpack: unpackArcRows, plainColumns: lent((body) => plainArcColumns(arcRowsIn(body))), unpackColumns: unpackArcColumns,
};

export const runRowCodec: RowCodec<RunRow> = {
  plain: plainRunRows, body: (plain) => plainBody(plain, runFormats), opened: runRowsIn, readPlain: (body) => readPlainRunRows(runRowsIn(body)),
  width: plainRunRow, pack: packPlainRunRows, unpack: unpackRunRows, plainColumns: lent((body) => plainRunColumns(runRowsIn(body))), unpackColumns: unpackRunColumns,
};

function lent<C>(read: (body: Uint8Array) => C): (body: Uint8Array) => C {
  return (body) => {
    startColumns();
    return read(body);
  };
}

/** Plain rows of an arc, or of the run itself, as they are stored. */
export function storedBody(arc: number, plain: Uint8Array): Buffer {
  return (arc === runArc ? runRowCodec : arcRowCodec).body(plain);
}

/** Index of a plain row. */
export function plainIndex(body: Uint8Array, row: number, { width }: { readonly width: number }): number {
  return new DataView(body.buffer, body.byteOffset).getFloat64(row * width, true);
}

/** Arc number under which a run's own rows are stored. */
export const runArc = 0;
