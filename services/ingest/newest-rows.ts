import type { FoldedRow } from '../../shared/weld/live-fold.js';
import type { StreamState } from './stream-state.js';

/** Rows that live figures look back on: the last minute. */
export const recentRows = 600;

/** The last minute's rows of a run, in order. */
export function newestRows(stream: StreamState, ordinal: number): FoldedRow[] {
  const rows: FoldedRow[] = [];
  for (const group of backwards(stream, ordinal)) if (rows.push(group) === recentRows) break;
  return rows.reverse();
}

export function newestRow(stream: StreamState, ordinal: number): FoldedRow | null {
  for (const group of backwards(stream, ordinal)) return group;
  return null;
}

function* backwards(stream: StreamState, ordinal: number): Generator<FoldedRow> {
  for (let at = stream.live.stretches.length - 1; at >= 0; at -= 1) {
    const output = stream.live.stretches[at]?.output ?? [];
    for (let k = output.length - 1; k >= 0; k -= 1) {
      const own = output[k];
      if (own?.type === 'row' && own.ordinal === ordinal) yield own;
    }
  }
  for (let at = stream.recent.length - 1; at >= 0; at -= 1) {
    const own = stream.recent[at];
    if (own?.ordinal !== ordinal) return;
    yield own;
  }
}
