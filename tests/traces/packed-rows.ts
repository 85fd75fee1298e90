import { packPlainArcRows, packPlainRunRows, unpackArcColumns, unpackRunColumns } from '../../shared/traces/pack-columns.js';
import { arcColumns, runColumns } from '../../shared/weld/rows/row.js';
import type { ArcRow, RunRow } from '../named-rows.js';
import { namedRows, plainArcRows, plainRunRows } from '../named-rows.js';

export const packArcRows = (rows: readonly ArcRow[]): Buffer => packPlainArcRows(plainArcRows(rows));
export const packRunRows = (rows: readonly RunRow[]): Buffer => packPlainRunRows(plainRunRows(rows));
export const unpackArcRows = (blob: Uint8Array): ArcRow[] => namedRows([unpackArcColumns(blob)], arcColumns);
export const unpackRunRows = (blob: Uint8Array): RunRow[] => namedRows([unpackRunColumns(blob)], runColumns);
