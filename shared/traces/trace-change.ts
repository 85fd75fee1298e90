import { arcColumns, columnOf, runColumns } from '../weld/rows/row.js';
import { plainBytes } from './plain-rows.js';
import { runArc } from './row-codec.js';
import type { TraceStore } from './trace-store.js';

/** Plain rows (plain-rows.ts) without a checksum; arc 0 is the run itself. */
export interface PlainRows {
  readonly run: string;
  readonly arc: number;
  readonly first: number;
  readonly last: number;
  readonly count: number;
  readonly rows: Uint8Array;
}

/** A call of `TraceStore` as plain data. */
export type TraceChange =
  | { readonly append: PlainRows }
  | { readonly tail: string; readonly parts: readonly PlainRows[] }
  | { readonly cut: string; readonly index: number }
  | { readonly close: string }
  | { readonly seal: string }
  | { readonly remove: string };

/** A store that passes every call on as data. It refuses rows that are not in order among themselves. */
export function traceChanges(note: (change: TraceChange) => void): TraceStore {
  function append(run: string, arc: number, rows: Float64Array): void {
    const own = plainRows(run, arc, rows);
    if (own === null) return;
    let previous = Number.NEGATIVE_INFINITY;
    for (let at = 0; at < rows.length; at += widthOf(arc)) {
      const index = columnOf(rows, at, 0);
      if (!Number.isSafeInteger(index) || index <= previous) throw outOfOrder(run, arc, index, previous);
      previous = index;
    }
    note({ append: own });
  }
  return {
    appendArc(run, arc, rows) {
      if (!Number.isInteger(arc) || arc <= runArc) throw new Error(`an arc has a whole number from 1, not ${arc}`);
      append(run, arc, rows);
    },
    appendRun: (run, rows) => { append(run, runArc, rows); },
    setTail(run, arcs, runRows) {
      const parts = [...arcs.map(({ arc, rows }) => plainRows(run, arc, rows)), plainRows(run, runArc, runRows)];
      note({ tail: run, parts: parts.filter((part) => part !== null) });
    },
    cut: (run, index) => { note({ cut: run, index }); },
    close: (run) => { note({ close: run }); },
    seal: (run) => { note({ seal: run }); },
    remove: (run) => { note({ remove: run }); },
  };
}

/** The rows as plain bytes, or null if there are none. The index is the first column of a row. */
function plainRows(run: string, arc: number, rows: Float64Array): PlainRows | null {
  if (rows.length === 0) return null;
  const width = widthOf(arc);
  return { run, arc, first: columnOf(rows, 0, 0), last: columnOf(rows, rows.length - width, 0), count: rows.length / width, rows: plainBytes(rows) };
}

function widthOf(arc: number): number {
  return (arc === runArc ? runColumns : arcColumns).length;
}

export function outOfOrder(run: string, arc: number, index: number, previous: number): Error {
  return new Error(`rows of run ${run}, arc ${arc} must come in order of whole index numbers: ${index} came after ${previous}`);
}

/** The number of runs whose last rows are remembered. */
const mostRuns = 10_000;

export interface OrderedTraces {
  readonly note: (change: TraceChange) => void;
  forgetAll(): void;
}

/** Refuses rows that do not come after the last ones it has seen, before they reach a store that would fail as a whole. */
export function orderedTraces(note: (change: TraceChange) => void): OrderedTraces {
  const lastRows = new Map<string, Map<number, number>>();
  return {
    note: (change) => {
      if ('append' in change) {
        const { run, arc, first, last } = change.append;
        let ofRun = lastRows.get(run);
        if (ofRun === undefined) {
          if (lastRows.size >= mostRuns) lastRows.clear();
          ofRun = new Map<number, number>();
          lastRows.set(run, ofRun);
        }
        const previous = ofRun.get(arc) ?? Number.NEGATIVE_INFINITY;
        if (first <= previous) throw outOfOrder(run, arc, first, previous);
        ofRun.set(arc, last);
      } else if ('cut' in change) {
        const ofRun = lastRows.get(change.cut);
        for (const [arc, last] of ofRun ?? []) ofRun?.set(arc, Math.min(last, change.index - 1));
      } else if ('remove' in change) lastRows.delete(change.remove);
      note(change);
    },
    forgetAll: () => { lastRows.clear(); },
  };
}
