import { measure, union, without } from './intervals.js';
import type { RunRowGroup } from './row.js';
import type { ZoneSpan } from './zone-spans.js';

/** A row of a run, and what of it each of its burning arcs spent in which zone. */
export interface ZonedRow {
  readonly group: RunRowGroup;
  readonly spans: ZoneSpan[];
}

export interface WeldShares {
  /** Share of the burning in the row that is weld, of the run and of each arc; 0 where nothing burnt. */
  readonly share: number;
  readonly arcShares: ReadonlyMap<number, number>;
}

/** A row is weld where every burning arc is in `weld`. */
export function weldShares({ group, spans }: ZonedRow): WeldShares {
  const arcShares = new Map<number, number>();
  if (spans.every((span) => span.weldFrom === span.from && span.weldTo === span.to)) {
    for (const { arc } of spans) arcShares.set(arc, 1);
    return { share: spans.length === 0 ? 0 : 1, arcShares };
  }
  const burning = union(spans.map((span) => [span.from, span.to] as const));
  const barred = union(spans.flatMap((span) => [[span.from, Math.max(span.from, Math.min(span.weldFrom, span.to))] as const, [Math.max(span.weldTo, span.from), span.to] as const]));
  const total = measure(burning);
  for (const { arc } of group.arcs) {
    const span = spans.find((own) => own.arc === arc);
    if (span === undefined) continue;
    const width = span.to - span.from;
    arcShares.set(arc, width === 0 ? 0 : measure(without([[span.from, span.to]], barred)) / width);
  }
  return { share: total === 0 ? 0 : measure(without(burning, barred)) / total, arcShares };
}
