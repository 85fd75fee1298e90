import { measure, union, without } from '../rows/intervals.js';
import { arcNumber, arcsEnd, arcStride, firstArc } from '../rows/row-group.js';
import type { ZoneSpan } from '../rows/zone-spans.js';
import type { PendingRow } from './pending-row.js';

export interface WeldShares {
  /** Share of the time for which the run burns in the row that is weld; 0 where nothing burnt. */
  readonly share: number;
  /** The same share for each arc, at its number; no entry means 0. */
  readonly arcShares: readonly (number | undefined)[];
}

const nothing: WeldShares = { share: 0, arcShares: [] };
/** A single arc that is weld throughout, which is most rows, by the arc's number. */
const wholeOf: (WeldShares | undefined)[] = [];

/** A row is weld where every burning arc is in `weld`. */
export function weldShares({ rows, at, spans }: PendingRow): WeldShares {
  const [only] = spans;
  if (only === undefined) return nothing;
  if (spans.every(isWhole)) return spans.length === 1 ? (wholeOf[only.arc] ??= wholeShares(spans)) : wholeShares(spans);
  const end = arcsEnd(rows, at);
  if (spans.length === 1 && end - firstArc(at) === arcStride) return partOf(only);
  const burning = union(spans.map((span) => [span.from, span.to] as const));
  const barred = union(spans.flatMap((span) => [[span.from, Math.max(span.from, Math.min(span.weldFrom, span.to))] as const, [Math.max(span.weldTo, span.from), span.to] as const]));
  const total = measure(burning);
  const arcShares: number[] = [];
  for (let own = firstArc(at); own < end; own += arcStride) {
    const arc = arcNumber(rows, own);
    const span = spans.find((other) => other.arc === arc);
    if (span === undefined) continue;
    const width = span.to - span.from;
    arcShares[arc] = width === 0 ? 0 : measure(without([[span.from, span.to]], barred)) / width;
  }
  return { share: total === 0 ? 0 : measure(without(burning, barred)) / total, arcShares };
}

function isWhole(span: ZoneSpan): boolean {
  return span.weldFrom === span.from && span.weldTo === span.to;
}

/** The same for a single arc, without allocating lists. */
function partOf({ arc, from, to, weldFrom, weldTo }: ZoneSpan): WeldShares {
  const begin = Math.max(from, Math.min(weldFrom, to));
  const end = Math.min(Math.max(weldTo, from), to);
  if (to <= from || end <= begin) return nothing;
  const share = (end - begin) / (to - from);
  const arcShares: number[] = [];
  arcShares[arc] = share;
  return { share, arcShares };
}

function wholeShares(spans: readonly ZoneSpan[]): WeldShares {
  const arcShares: number[] = [];
  for (const { arc } of spans) arcShares[arc] = 1;
  return { share: 1, arcShares };
}
