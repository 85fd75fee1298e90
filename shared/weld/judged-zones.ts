import type { UnjudgedStretch } from './heat-passages.js';
import type { RunSums, ZoneStretch } from './run-sums.js';

/** The zones of a run in order; what is weld by its arcs is none where heat input is not judged. */
export function judgedZones({ zones, judge }: Pick<RunSums, 'zones' | 'judge'>): ZoneStretch[] {
  const unjudged = [...(judge?.passages.unjudged ?? [])].sort((a, b) => a.from - b.from);
  return unjudged.length === 0 ? zones : zones.flatMap((stretch) => (stretch.zone === 'weld' ? withUnjudged(stretch, unjudged) : [stretch]));
}

function withUnjudged({ zone, from, to }: ZoneStretch, unjudged: readonly UnjudgedStretch[]): ZoneStretch[] {
  const cut: ZoneStretch[] = [];
  let at = from;
  for (const own of unjudged) {
    const begin = Math.max(own.from, at);
    const end = Math.min(own.to, to);
    if (end <= begin) continue;
    if (begin > at) cut.push({ zone, from: at, to: begin });
    cut.push({ zone: own.zone, from: begin, to: end });
    at = end;
  }
  if (at < to) cut.push({ zone, from: at, to });
  return cut;
}
