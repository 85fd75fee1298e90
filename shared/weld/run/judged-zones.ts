import type { UnjudgedStretch } from '../judging/seam-passages.js';
import type { RunSums, ZoneStretch } from './run-sums.js';

/** The zones of a run in order; a stretch in the weld zone of its arcs does not count as weld where heat input is not judged. */
export function judgedZones({ zones, settled }: Pick<RunSums, 'zones' | 'settled'>): ZoneStretch[] {
  const unjudged = [...(settled?.passages.unjudged ?? [])].sort((a, b) => a.from - b.from);
  return unjudged.length === 0 ? zones : zones.flatMap((stretch) => (stretch.zone === 'weld' ? withUnjudged(stretch, unjudged) : [stretch]));
}

function withUnjudged({ zone, from, to, arcs }: ZoneStretch, unjudged: readonly UnjudgedStretch[]): ZoneStretch[] {
  const cut: ZoneStretch[] = [];
  let at = from;
  for (const own of unjudged) {
    const begin = Math.max(own.from, at);
    const end = Math.min(own.to, to);
    if (end <= begin) continue;
    if (begin > at) cut.push({ zone, from: at, to: begin, arcs });
    const last = cut.at(-1);
    // What was known about an arc while it was out may have changed in between; stretches with the same outcome become one.
    if (begin === at && last?.zone === own.zone && String(last.arcs) === String(own.missing)) last.to = end;
    else cut.push({ zone: own.zone, from: begin, to: end, arcs: own.missing, unpassed: true });
    at = end;
  }
  if (at < to) cut.push({ zone, from: at, to, arcs });
  return cut;
}
