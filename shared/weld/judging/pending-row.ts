import type { Moment } from './excursion-track.js';
import { columnOf, rowLength, runColumn } from '../rows/row.js';
import { copyGroups, type RowGroup } from '../rows/row-group.js';
import type { ZoneSpan } from '../rows/zone-spans.js';

/** A row of a run that waits to be judged: how long each of its burning arcs spent in which zone, and what is known of its values. */
export interface PendingRow extends RowGroup {
  readonly spans: ZoneSpan[];
  readonly from: Moment;
  readonly to: Moment;
  /** Its number among the judged rows of the run. */
  readonly number: number;
  /** Judged values in the order of `followedRows`: null where nothing was sent, undefined where the value is not computed yet. */
  readonly judged: (number | null | undefined)[];
}

export function pendingRow(rows: Float64Array, at: number, spans: ZoneSpan[], number: number, judged: PendingRow['judged']): PendingRow {
  const index = columnOf(rows, at, runColumn.index);
  const travelled = columnOf(rows, at, runColumn.travelled);
  return {
    rows, at, spans,
    from: { time: index * rowLength + columnOf(rows, at, runColumn.from), travelled },
    to: { time: (index + 1) * rowLength, travelled: travelled + columnOf(rows, at, runColumn.advance) },
    number, judged,
  };
}

/**
 * Independent copies: their spans may change, and values that look ahead are computed from the rows that follow there, which late items may replace.
 * They keep no other rows in memory with them, so a checkpoint contains none of those.
 */
export function clonePendingRows(zoned: readonly PendingRow[]): PendingRow[] {
  return copyGroups(zoned).map((row) => ({ ...row, spans: row.spans.map((span) => ({ ...span })), judged: row.judged.slice() }));
}
