import type { ReceivedItem } from '../../shared/weld/items/item.js';
import type { Sensors } from '../../shared/weld/procedure/sensors.js';
import type { WeldSettings } from '../../shared/weld/weld-settings.js';
import { judgeArc } from './arc-state.js';
import { baseOf, correctTimes } from './corrected-times.js';
import { eraAt, makeEras } from './eras.js';
import { holdValues, placeItems } from './held-values.js';
import { sentTravel, traceMotion } from './motion.js';
import type { PlacedAssignment, PlainProcedure, PlainRun, Span } from './plain-types.js';
import { runFigures } from './run-figures.js';
import { splitRuns } from './split-runs.js';

export const plainProcedure: PlainProcedure = {
  thermalEfficiency: 1,
  ignitionTime: 2,
  ignitionLength: 15,
  craterTime: 2,
  offsets: new Map(),
  alternating: new Set(),
  shape: { f2: 1, f3: 1 },
  wires: new Map(),
  fluxRatio: 1,
};

function mergeSpans(spans: readonly Span[]): Span[] {
  const merged: { from: number; to: number }[] = [];
  for (const span of [...spans].sort((a, b) => a.from - b.from)) {
    const last = merged.at(-1);
    if (last !== undefined && span.from <= last.to) last.to = Math.max(last.to, span.to);
    else merged.push({ from: span.from, to: span.to });
  }
  return merged;
}

/**
 * The figures of every run of one carriage, computed from the whole list of items at once: slow, and written from the rules alone, to find errors in
 * the program that computes them item by item. `items` are in canonical order and free of duplicates; `sensors` were declared
 * before all of them.
 */
export function plainRuns(
  items: readonly ReceivedItem[],
  assignments: readonly PlacedAssignment[],
  settings: WeldSettings,
  procedures: ReadonlyMap<string, PlainProcedure> = new Map(),
  sensors: Sensors | null = null,
): PlainRun[] {
  const base = baseOf(items);
  const timed = correctTimes(items, base, settings.maxHold);
  const eras = makeEras(assignments);
  const numbers = [...new Set(items.map((item) => item.arc))].sort((a, b) => a - b);
  const byArc = new Map(numbers.map((arc) => [arc, placeItems(timed.filter((entry) => entry.item.arc === arc))]));
  const segments = new Map(numbers.map((arc) => [arc, holdValues(byArc.get(arc) ?? [], settings.maxHold, sensors)]));
  const states = new Map(
    numbers.map((arc) => [
      arc,
      judgeArc(segments.get(arc) ?? [], settings, (before, after) => {
        const era = eraAt(eras, before.index);
        const limit = eras[era]?.key === null ? settings.unassignedRunEndAfter : settings.runEndAfter;
        return after.broken || after.start - before.end > limit || (after.start > before.end && era !== eraAt(eras, after.index));
      }),
    ]),
  );
  const sent = [...segments.values()].flat().map((segment) => ({ from: segment.start, to: segment.end }));
  const gaps = [...states.values()].flatMap((state) => state.gaps);
  const placed = [...byArc.values()].flat().sort((a, b) => a.index - b.index);
  const moves = traceMotion(placed, mergeSpans([...sent, ...gaps]));
  const stream = { base, items: placed, states, moves, sensors };
  const runs = splitRuns(states, eras, settings, sentTravel(placed)).map((run) => {
    const named = run.assignment?.procedure;
    const procedure = (named === undefined ? undefined : procedures.get(named)) ?? plainProcedure;
    return runFigures(run, stream, procedure, settings);
  });
  return runs.sort((a, b) => a.startedAt - b.startedAt);
}
