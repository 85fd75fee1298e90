import type { ArcColumn, RunColumn } from '../weld/rows/row.js';
import type { RowStretch } from '../weld/rows/row-stretch.js';

/** Rows of one arc of one run, or (arc 0) of the run itself, in order of their index. Rows that are handed in lie one behind the other, and change no more. */
export interface TraceStore {
  /**
   * Adds rows behind those that are there; rows that are not behind them are refused. Within the caller's transaction where the
   * engine has one. A call costs about as much as five rows: several rows at a time are cheaper than one by one.
   */
  appendArc(run: string, arc: number, rows: Float64Array): void;
  appendRun(run: string, rows: Float64Array): void;
  /**
   * Replaces the provisional rows at the end of a trace (those younger than the ones appended); readers see them
   * behind the appended ones, and no longer those that were appended since. Arcs that are not named lose theirs.
   */
  setTail(run: string, arcs: readonly { readonly arc: number; readonly rows: Float64Array }[], runRows: Float64Array): void;
  /** Forgets every row of the run from `index` on, the tail included. */
  cut(run: string, index: number): void;
  /** Packs what is not packed yet; called when a run is finished. Readers see no difference. */
  close(run: string): void;
  /** Notes what a finished trace is made of: until something of it changes, reading it throws where any of that is missing. */
  seal(run: string): void;
  remove(run: string): void;
}

export interface TraceReader {
  /** Arcs of which the run has rows, ascending. */
  arcs(run: string): number[];
  /** Rows with `from <= index < to` in order, as they were when this was called, in stretches with the columns that are named; may be gone through more than once. */
  readArcColumns<Name extends ArcColumn>(run: string, arc: number, names: readonly Name[], from?: number, to?: number): Iterable<RowStretch<Name>>;
  readRunColumns<Name extends RunColumn>(run: string, names: readonly Name[], from?: number, to?: number): Iterable<RowStretch<Name>>;
  /** Number of rows of all arcs (run rows not counted), and least and greatest index of any row, the run's too; null without rows. */
  extent(run: string): { readonly rows: number; readonly first: number; readonly last: number } | null;
}
