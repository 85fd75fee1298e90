import type { ArcRow, RunRow } from '../weld/row.js';
import type { RowStretch } from '../weld/row-stretch.js';

/** Rows of one arc of one run, or (arc 0) of the run itself, in order of their index. */
export interface TraceStore {
  /**
   * Adds rows behind those that are there; rows that are not behind them are refused. Within the caller's transaction where the
   * engine has one. A call costs about as much as five rows: several rows at a time are cheaper than one by one.
   */
  appendArc(run: string, arc: number, rows: readonly ArcRow[]): void;
  appendRun(run: string, rows: readonly RunRow[]): void;
  /**
   * Replaces the provisional rows at the end of a trace (those younger than the ones appended); readers see them
   * behind the appended ones, and no longer those that were appended since. Arcs that are not named lose theirs.
   */
  setTail(run: string, arcs: readonly { readonly arc: number; readonly rows: readonly ArcRow[] }[], runRows: readonly RunRow[]): void;
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
  /** Rows with `from <= index < to` in order, as they were when this was called; may be gone through more than once. */
  readArc(run: string, arc: number, from?: number, to?: number): Iterable<ArcRow>;
  readRun(run: string, from?: number, to?: number): Iterable<RunRow>;
  /** The same rows in stretches, with the columns that are named: several times as fast where many rows are read. */
  readArcColumns<Name extends keyof ArcRow>(run: string, arc: number, names: readonly Name[], from?: number, to?: number): Iterable<RowStretch<Name>>;
  readRunColumns<Name extends keyof RunRow>(run: string, names: readonly Name[], from?: number, to?: number): Iterable<RowStretch<Name>>;
  /** Number of rows of all arcs (run rows not counted), and least and greatest index of any row, the run's too; null without rows. */
  extent(run: string): { readonly rows: number; readonly first: number; readonly last: number } | null;
}
