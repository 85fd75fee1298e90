import type { ArcRow, RunRow, RunRowGroup } from '../weld/row.js';
import type { TraceReader } from './trace-store.js';

/** The rows of a run and of its arcs, side by side in order of their index. */
export function* readRowGroups(traces: TraceReader, run: string): Generator<RunRowGroup> {
  const arcs = traces.arcs(run).map((arc) => ({ arc, rows: traces.readArc(run, arc)[Symbol.iterator](), next: undefined as ArcRow | undefined }));
  for (const own of arcs) own.next = nextOf(own.rows);
  const runRows: Iterable<RunRow> = traces.readRun(run);
  for (const row of runRows) {
    const present: { arc: number; row: ArcRow }[] = [];
    for (const own of arcs) {
      while (own.next !== undefined && own.next.index < row.index) own.next = nextOf(own.rows);
      if (own.next?.index === row.index) {
        present.push({ arc: own.arc, row: own.next });
        own.next = nextOf(own.rows);
      }
    }
    yield { run: row, arcs: present };
  }
}

function nextOf(rows: Iterator<ArcRow>): ArcRow | undefined {
  const result = rows.next();
  return result.done === true ? undefined : result.value;
}
