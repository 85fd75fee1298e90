import { arcColumns, runColumns } from '../weld/rows/row.js';
import { beginArcRow, beginGroup, startRoom, type RowGroup } from '../weld/rows/row-group.js';
import type { RowStretch } from '../weld/rows/row-stretch.js';
import { at as valueAt } from './row-columns.js';
import type { TraceReader } from './trace-store.js';

/** A place among the rows of a trace. */
interface Cursor {
  readonly stretches: Iterator<readonly Float64Array[]>;
  /** The columns of the current stretch in their order; `row` is the row in it. */
  columns: readonly Float64Array[];
  row: number;
  /** Infinity after the last row. */
  index: number;
}

/** The rows of a run and of its arcs, side by side in order of their index. */
export function* readRowGroups(traces: TraceReader, run: string): Generator<RowGroup> {
  const arcs = traces.arcs(run).map((arc) => ({ arc, cursor: cursorOf(traces.readArcColumns(run, arc, arcColumns), arcColumns) }));
  const room = startRoom();
  const own = cursorOf(traces.readRunColumns(run, runColumns), runColumns);
  while (own.index < Infinity) {
    for (const { cursor } of arcs) while (cursor.index < own.index) step(cursor);
    const present = arcs.filter(({ cursor }) => cursor.index === own.index);
    const at = beginGroup(room, present.length);
    const { rows } = room;
    copyRow(own, rows, at);
    step(own);
    for (const [k, { arc, cursor }] of present.entries()) {
      copyRow(cursor, rows, beginArcRow(rows, at, k, arc));
      step(cursor);
    }
    yield { rows, at };
  }
}

function cursorOf<Name extends string>(stretches: Iterable<RowStretch<Name>>, names: readonly Name[]): Cursor {
  const cursor: Cursor = { stretches: inOrder(stretches, names), columns: [], row: -1, index: -Infinity };
  step(cursor);
  return cursor;
}

function* inOrder<Name extends string>(stretches: Iterable<RowStretch<Name>>, names: readonly Name[]): Generator<readonly Float64Array[]> {
  for (const { count, columns } of stretches) if (count > 0) yield names.map((name) => columns[name]);
}

function step(cursor: Cursor): void {
  cursor.row += 1;
  const [index] = cursor.columns;
  if (index !== undefined && cursor.row < index.length) {
    cursor.index = valueAt(index, cursor.row);
    return;
  }
  const next = cursor.stretches.next();
  cursor.columns = next.done === true ? [] : next.value;
  cursor.row = 0;
  cursor.index = cursor.columns[0]?.[0] ?? Infinity;
}

function copyRow({ columns, row }: Cursor, rows: Float64Array, at: number): void {
  for (let k = 0; k < columns.length; k += 1) {
    const column = columns[k];
    if (column !== undefined) rows[at + k] = valueAt(column, row);
  }
}
