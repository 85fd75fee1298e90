import type { FoldedRow, LiveFold } from '../../../shared/weld/run/live-fold.js';

/** How many rows the live figures look back on: the last minute. */
const recentRows = 600;

/** The rows of a carriage that may still change, in `live`, and those of the last minute before them. */
export interface RecentRows {
  live: LiveFold;
  recent: FoldedRow[];
}

/** Adds a row that is final. */
export function addRecentRow({ recent }: RecentRows, row: FoldedRow): void {
  recent.push(row);
  if (recent.length > 2 * recentRows) recent.splice(0, recent.length - recentRows);
}

/** The last minute's rows of a run, in order. */
export function newestRows(of: RecentRows, ordinal: number): FoldedRow[] {
  const rows: FoldedRow[] = [];
  for (const group of backwards(of, ordinal)) if (rows.push(group) === recentRows) break;
  return rows.reverse();
}

export function newestRow(of: RecentRows, ordinal: number): FoldedRow | null {
  for (const group of backwards(of, ordinal)) return group;
  return null;
}

function* backwards({ live, recent }: RecentRows, ordinal: number): Generator<FoldedRow> {
  for (let at = live.stretches.length - 1; at >= 0; at -= 1) {
    const output = live.stretches[at]?.output ?? [];
    for (let k = output.length - 1; k >= 0; k -= 1) {
      const own = output[k];
      if (own?.type === 'row' && own.ordinal === ordinal) yield own;
    }
  }
  for (let at = recent.length - 1; at >= 0; at -= 1) {
    const own = recent[at];
    if (own?.ordinal !== ordinal) return;
    yield own;
  }
}
