import type { Moment } from './excursion-track.js';
import type { RunRowGroup } from './row.js';
import { rowLength } from './row.js';
import type { ZoneSpan } from './zone-spans.js';

/** A row of a run that waits to be judged: what of it each of its burning arcs spent in which zone, and what is known of its values. */
export interface ZonedRow {
  readonly group: RunRowGroup;
  readonly spans: ZoneSpan[];
  /** Its beginning and its end. */
  readonly from: Moment;
  readonly to: Moment;
  /** Its number among the run's rows that are judged. */
  readonly number: number;
  /** Judged values in the order of `followedRows`: null where nothing was sent, undefined where the value is not worked out yet. */
  readonly judged: (number | null | undefined)[];
}

export function zonedRow(group: RunRowGroup, spans: ZoneSpan[], number: number, judged: ZonedRow['judged']): ZonedRow {
  const { run } = group;
  return {
    group, spans,
    from: { time: run.index * rowLength + run.from, travelled: run.travelled },
    to: { time: (run.index + 1) * rowLength, travelled: run.travelled + run.advance },
    number, judged,
  };
}

/**
 * A copy that goes its own way: its spans may change by themselves, and values that look ahead are worked out from the rows that follow
 * it there, which late items may make others.
 */
export function cloneZonedRow(row: ZonedRow): ZonedRow {
  return { ...row, spans: row.spans.map((span) => ({ ...span })), judged: row.judged.slice() };
}
