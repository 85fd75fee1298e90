import type { ArcRow, RunRow, RunRowGroup } from '../../shared/weld/row.js';

/** Rows of one run on their way into the trace store, column by arc. */
export interface RowBatch {
  readonly runRows: RunRow[];
  readonly arcs: Map<number, ArcRow[]>;
}

export function emptyBatch(): RowBatch {
  return { runRows: [], arcs: new Map() };
}

export function batchOf(groups: readonly RunRowGroup[]): RowBatch {
  const batch = emptyBatch();
  for (const group of groups) addGroup(batch, group);
  return batch;
}

export function addGroup(batch: RowBatch, group: RunRowGroup): void {
  batch.runRows.push(group.run);
  for (const { arc, row } of group.arcs) {
    const list = batch.arcs.get(arc);
    if (list === undefined) batch.arcs.set(arc, [row]);
    else list.push(row);
  }
}
