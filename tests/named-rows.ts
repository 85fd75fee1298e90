import { plainBytes } from '../shared/traces/plain-rows.js';
import type { TraceReader } from '../shared/traces/trace-store.js';
import type { ArcColumn, RunColumn } from '../shared/weld/rows/row.js';
import { arcColumns, columnOf, runColumns } from '../shared/weld/rows/row.js';
import { arcNumber, arcsEnd, arcStride, beginArcRow, beginGroup, firstArc, startRoom } from '../shared/weld/rows/row-group.js';
import type { RowGroup } from '../shared/weld/rows/row-group.js';
import type { RowStretch } from '../shared/weld/rows/row-stretch.js';

/** Rows with their columns by name: as tests make and read them. */
export type ArcRow = Readonly<Record<ArcColumn, number>>;
export type RunRow = Readonly<Record<RunColumn, number>>;
export interface RunRowGroup {
  readonly run: RunRow;
  readonly arcs: readonly { readonly arc: number; readonly row: ArcRow }[];
}

export function namedGroup({ rows, at }: RowGroup): RunRowGroup {
  const arcs: { arc: number; row: ArcRow }[] = [];
  for (let own = firstArc(at); own < arcsEnd(rows, at); own += arcStride) arcs.push({ arc: arcNumber(rows, own), row: named(arcColumns, rows, own) });
  return { run: named(runColumns, rows, at), arcs };
}

/** For `JSON.stringify`: in place of where a row lies what stands in it. */
export function rowsByName(_: string, value: unknown): unknown {
  if (typeof value !== 'object' || value === null || !('rows' in value) || !(value.rows instanceof Float64Array)) return value;
  const { rows, at, ...more } = value as RowGroup;
  return { ...more, ...namedGroup({ rows, at }) };
}

export function groupOf({ run, arcs }: RunRowGroup): RowGroup {
  const room = startRoom();
  const at = beginGroup(room, arcs.length);
  put(room.rows, at, runColumns, run);
  for (const [k, { arc, row }] of arcs.entries()) put(room.rows, beginArcRow(room.rows, at, k, arc), arcColumns, row);
  return { rows: room.rows, at };
}

/** Rows one behind the other, as a trace store takes them. */
export const arcNumbers = (rows: readonly ArcRow[]): Float64Array => joined(arcColumns, rows);
export const runNumbers = (rows: readonly RunRow[]): Float64Array => joined(runColumns, rows);
export const plainArcRows = (rows: readonly ArcRow[]): Buffer => plainBytes(arcNumbers(rows));
export const plainRunRows = (rows: readonly RunRow[]): Buffer => plainBytes(runNumbers(rows));

/** The rows of a trace, as they were when this was called. */
export function readArc(reader: TraceReader, run: string, arc: number, from?: number, to?: number): ArcRow[] {
  return namedRows(reader.readArcColumns(run, arc, arcColumns, from, to), arcColumns);
}

export function readRun(reader: TraceReader, run: string, from?: number, to?: number): RunRow[] {
  return namedRows(reader.readRunColumns(run, runColumns, from, to), runColumns);
}

export function namedRows<Name extends string>(stretches: Iterable<RowStretch<Name>>, names: readonly Name[]): Readonly<Record<Name, number>>[] {
  return [...stretches].flatMap(({ count, columns }) => {
    const inOrder = names.map((name) => columns[name]);
    return Array.from({ length: count }, (_, row) => record(names, (place) => inOrder[place]?.[row] ?? Number.NaN));
  });
}

export function stretchOf<Name extends string>(rows: readonly Readonly<Record<Name, number>>[], names: readonly Name[]): RowStretch<Name> {
  const columns: Partial<Record<Name, Float64Array>> = {};
  for (const name of names) columns[name] = Float64Array.from(rows, (row) => row[name]);
  return { count: rows.length, columns: columns as Record<Name, Float64Array> };
}

function named<Name extends string>(names: readonly Name[], rows: Float64Array, at: number): Readonly<Record<Name, number>> {
  return record(names, (place) => columnOf(rows, at, place));
}

function record<Name extends string>(names: readonly Name[], valueOf: (place: number) => number): Readonly<Record<Name, number>> {
  return Object.fromEntries(names.map((name, place) => [name, valueOf(place)])) as Record<Name, number>;
}

function put<Name extends string>(rows: Float64Array, at: number, names: readonly Name[], row: Readonly<Record<Name, number>>): void {
  for (const [place, name] of names.entries()) rows[at + place] = row[name];
}

function joined<Name extends string>(names: readonly Name[], rows: readonly Readonly<Record<Name, number>>[]): Float64Array {
  const numbers = new Float64Array(rows.length * names.length);
  for (const [at, row] of rows.entries()) put(numbers, at * names.length, names, row);
  return numbers;
}
