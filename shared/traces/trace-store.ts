import type { ArcColumn, RunColumn } from '../weld/rows/row.js';
import type { RowStretch } from '../weld/rows/row-stretch.js';

/** Rows of one arc of a run, or (arc 0) of the run itself, in order of their index. Rows that are handed in are in order and final. */
export interface TraceStore {
  /**
   * Appends rows; rows that do not come after the stored ones are refused. Runs within the caller's transaction where the engine has one. A call
   * costs about as much as five rows, so several rows at a time are cheaper than one by one.
   */
  appendArc(run: string, arc: number, rows: Float64Array): void;
  appendRun(run: string, rows: Float64Array): void;
  /**
   * Replaces the provisional rows at the end of a trace. Readers see them after the appended ones, except for rows that were appended since. Arcs
   * that are not named lose their provisional rows.
   */
  setTail(run: string, arcs: readonly { readonly arc: number; readonly rows: Float64Array }[], runRows: Float64Array): void;
  /** Removes every row of the run from `index` on, the tail included. */
  cut(run: string, index: number): void;
  /** Packs the remaining plain rows; called when a run is finished. Readers see no difference. */
  close(run: string): void;
  /** Records what a finished trace is made of: until the trace changes, reading it throws if any part is missing. */
  seal(run: string): void;
  remove(run: string): void;
}

export interface TraceReader {
  /** Arcs for which the run has rows, ascending. */
  arcs(run: string): number[];
  /**
   * The named columns of the rows with `from <= index < to`, in order and in stretches, as of the time of the call; may be iterated more than once.
   */
  readArcColumns<Name extends ArcColumn>(run: string, arc: number, names: readonly Name[], from?: number, to?: number): Iterable<RowStretch<Name>>;
  readRunColumns<Name extends RunColumn>(run: string, names: readonly Name[], from?: number, to?: number): Iterable<RowStretch<Name>>;
  /** Number of rows of all arcs (not counting run rows), and the least and greatest index of any row, run rows included; null without rows. */
  extent(run: string): { readonly rows: number; readonly first: number; readonly last: number } | null;
}
