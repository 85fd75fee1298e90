import type { WeldSettings } from '../../shared/weld/weld-settings.js';
import type { ReceivedItem } from '../../shared/weld/items/item.js';
import { judgeArc } from './arc-state.js';
import { baseOf, correctTimes } from './corrected-times.js';
import { eraAt, makeEras } from './eras.js';
import { holdValues, placeItems } from './held-values.js';
import { runMoments, type Moment } from './moments.js';
import { sentTravel, traceMotion, type Move } from './motion.js';
import type { PlacedAssignment, PlainProcedure, Span } from './plain-types.js';
import { splitRuns, type RunParts } from './split-runs.js';
import type { Share, ZonedRow } from './window-types.js';
import type { RunRowGroup } from '../named-rows.js';

const rowTime = 100_000;
/** What is half of a row on paper may be less by its last bits, µs. */
const rounding = 1e-4;

export interface PlainStream {
  readonly base: number;
  readonly runs: readonly RunParts[];
  readonly moves: readonly Move[];
}

function merge(spans: readonly Span[]): Span[] {
  const merged: { from: number; to: number }[] = [];
  for (const span of [...spans].sort((a, b) => a.from - b.from)) {
    const last = merged.at(-1);
    if (last !== undefined && span.from <= last.to) last.to = Math.max(last.to, span.to);
    else merged.push({ ...span });
  }
  return merged;
}

const startOf = (run: RunParts): number => Math.min(...run.burns.map((burn) => burn.from));

/** The runs of a stream with their burnings and the carriage's motion, in the order in which they begin. */
export function plainStream(items: readonly ReceivedItem[], assignments: readonly PlacedAssignment[], settings: WeldSettings): PlainStream {
  const base = baseOf(items);
  const timed = correctTimes(items, base, settings.maxHold);
  const eras = makeEras(assignments);
  const numbers = [...new Set(items.map((item) => item.arc))].sort((a, b) => a - b);
  const byArc = numbers.map((arc) => placeItems(timed.filter((entry) => entry.item.arc === arc)));
  const held = byArc.map((placed) => holdValues(placed, settings.maxHold));
  const states = held.map((segments) =>
    judgeArc(segments, settings, (before, after) => {
      const era = eraAt(eras, before.index);
      const limit = eras[era]?.key === null ? settings.unassignedRunEndAfter : settings.runEndAfter;
      return after.broken || after.start - before.end > limit || (after.start > before.end && era !== eraAt(eras, after.index));
    }),
  );
  const sent = held.flat().map(({ start, end }) => ({ from: start, to: end }));
  const gaps = states.flatMap((state) => state.gaps.map(({ from, to }) => ({ from, to })));
  const placed = byArc.flat().sort((a, b) => a.index - b.index);
  const moves = traceMotion(placed, merge([...sent, ...gaps]));
  const runs = splitRuns(new Map(numbers.map((arc, i) => [arc, states[i] ?? { lightings: [], gaps: [] }])), eras, settings, sentTravel(placed));
  return { base, runs: runs.sort((a, b) => startOf(a) - startOf(b)), moves };
}

/** How much of what burnt in `[from, from + 100 ms)` was weld, and the burning in which most of it lay. */
function shareOf(moments: readonly Moment[], burns: readonly Span[], from: number): Share {
  const overlap = (span: Span): number => Math.max(0, Math.min(span.to, from + rowTime) - Math.max(span.from, from));
  let burning = 0;
  let weld = 0;
  for (const moment of moments) {
    const time = overlap(moment);
    burning += time;
    weld += moment.weld ? time : 0;
  }
  const times = burns.map(overlap);
  const most = Math.max(0, ...times);
  return { burn: most > 0 ? times.indexOf(most) : -1, weld: burning > 0 && weld >= burning / 2 - rounding, someWeld: weld > 0 };
}

function lengthsOf(moments: readonly Moment[], from: number): Pick<ZonedRow, 'gapLength' | 'excludedLength' | 'weldLength' | 'uneven'> {
  const lengths = { gapLength: 0, excludedLength: 0, weldLength: 0 };
  let time = 0;
  let weldTime = 0;
  for (const moment of moments) {
    const part = Math.min(moment.to, from + rowTime) - Math.max(moment.from, from);
    if (part <= 0) continue;
    const name = moment.inGap ? 'gapLength' : moment.weld ? 'weldLength' : 'excludedLength';
    lengths[name] += (moment.distance * part) / (moment.to - moment.from);
    if (moment.inGap) continue;
    time += part;
    weldTime += moment.weld ? part : 0;
  }
  const evenly = time === 0 ? 0 : ((lengths.weldLength + lengths.excludedLength) * weldTime) / time;
  const { gapLength, weldLength, excludedLength } = lengths;
  // next to a gap, not even the part without it is known to be even
  const cut = gapLength > 0 && weldLength > 0 && excludedLength > 0;
  return { ...lengths, uneven: cut ? Math.min(weldLength, excludedLength) : Math.abs(evenly - weldLength) };
}

/** The rows of a run with the zones of its arcs and of the run, which is weld if every burning arc is in weld. */
export function zonedRows(stream: PlainStream, run: RunParts, procedure: PlainProcedure, rows: readonly RunRowGroup[]): ZonedRow[] {
  const start = startOf(run);
  const moments = runMoments(run, stream.moves, start, procedure);
  const own = new Map(
    [...new Set(run.burns.map((burn) => burn.arc))].map((arc) => {
      const burns = run.burns.filter((burn) => burn.arc === arc);
      return [arc, { burns, moments: runMoments({ ...run, burns, gaps: run.gaps.filter((gap) => gap.arc === arc) }, stream.moves, start, procedure) }];
    }),
  );
  const burnings = merge(run.burns);
  return [...rows]
    .sort((a, b) => a.run.index - b.run.index)
    .map((group) => {
      const from = group.run.index * rowTime - stream.base;
      const near = (all: readonly Moment[]): Moment[] => all.filter((moment) => moment.to > from && moment.from < from + rowTime);
      return {
        group,
        start: from + stream.base,
        run: shareOf(near(moments), burnings, from),
        arcs: new Map([...own].map(([arc, { burns, moments: all }]) => [arc, shareOf(near(all), burns, from)])),
        ...lengthsOf(near(moments), from),
      };
    });
}
