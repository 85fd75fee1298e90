import { plainCooling, type PlainShape } from './plain-cooling.js';
import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import type { Judged, ZonedRow } from './window-types.js';

/** Going back by more than this begins another passage, mm. */
const turnsAfter = 1;

/** The passage to which each row belongs: a place passed again, or welded on after a restart, is never added to the first passage. */
export function passagesOf(rows: readonly ZonedRow[]): number[] {
  const passages: number[] = [];
  let passage = 0;
  let burn = -1;
  let heading = 0;
  let farthest = 0;
  let farthestRow = 0;
  rows.forEach(({ run: share, group: { run } }, i) => {
    if (share.burn >= 0 && share.burn !== burn) {
      passage += 1;
      burn = share.burn;
      heading = 0;
      farthest = run.travelled;
      farthestRow = i;
    }
    passages.push(passage);
    const place = run.travelled + run.advance;
    if (heading === 0) heading = Math.sign(place - farthest);
    if ((place - farthest) * heading > 0 || run.advance * heading > 0) {
      if ((place - farthest) * heading < 0) return;
      farthest = place;
      farthestRow = i + 1;
    } else if (Math.abs(place - farthest) > turnsAfter) {
      // this applies to all rows since the turning point
      passage += 1;
      passages.fill(passage, farthestRow);
      heading = -heading;
      farthest = place;
      farthestRow = i + 1;
    }
  });
  return passages;
}

interface Stretch {
  readonly low: number;
  readonly high: number;
  readonly length: number;
  readonly energy: number;
  readonly passage: number;
}

const spread = (from: number, to: number): { low: number; high: number } => ({ low: Math.min(from, to), high: Math.max(from, to) });

/** The share of a stretch that lies in `[from, to)`; a stretch without length, where the carriage stopped, lies in it or not. */
function shareIn(stretch: { readonly low: number; readonly high: number }, from: number, to: number): number {
  const extent = stretch.high - stretch.low;
  if (extent === 0) return stretch.low >= from && stretch.low < to ? 1 : 0;
  return Math.max(0, Math.min(to, stretch.high) - Math.max(from, stretch.low)) / extent;
}

function stretchesOf(rows: readonly ZonedRow[], passages: readonly number[], offsets: ReadonlyMap<number, number>): Map<number, Stretch[]> {
  const stretches = new Map<number, Stretch[]>();
  rows.forEach(({ group }, i) => {
    for (const { arc, row } of group.arcs) {
      if (row.on <= 0 || Number.isNaN(row.travelled) || Number.isNaN(row.length)) continue;
      const from = row.travelled - (offsets.get(arc) ?? 0);
      const own = stretches.get(arc) ?? [];
      own.push({ ...spread(from, from + Math.sign(group.run.advance) * row.length), length: row.length, energy: row.energy, passage: passages[i] ?? 0 });
      stretches.set(arc, own);
    }
  });
  return stretches;
}

/** The places where data is missing: at the end of a row in which a gap begins, otherwise from the row's start. */
function holesOf(rows: readonly ZonedRow[], passages: readonly number[]): (Pick<Stretch, 'low' | 'high' | 'passage'>)[] {
  return rows.flatMap(({ group: { run } }, i) => {
    if (run.gapLength === 0) return [];
    const ahead = Math.sign(run.advance) * run.gapLength;
    const end = run.travelled + run.advance;
    const begins = (rows[i + 1]?.group.run.gap ?? 0) > 0;
    return [{ ...(begins ? spread(end - ahead, end) : spread(run.travelled, run.travelled + ahead)), passage: passages[i] ?? 0 }];
  });
}

/** The arcs that burnt in any of the rows. */
export const arcsOf = (rows: readonly ZonedRow[]): ReadonlySet<number> => new Set(rows.flatMap(({ group }) => group.arcs.filter(({ row }) => row.on > 0).map(({ arc }) => arc)));

/** Computed places count as equal within a nanometre, mm. */
const samePlace = 1e-6;

/**
 * For each row, the arcs among `arcs` that did not pass its middle in the row's passage. An arc in a data gap is assumed to continue; if the carriage
 * never moves, nobody can say.
 */
export function missingArcs(rows: readonly ZonedRow[], offsets: ReadonlyMap<number, number>, arcs: ReadonlySet<number>): number[][] {
  const passages = passagesOf(rows);
  const stretches = stretchesOf(rows, passages, offsets);
  const holes = holesOf(rows, passages);
  const moves = rows.some(({ group }) => group.run.advance !== 0);
  return rows.map(({ group: { run } }, i) => {
    if (arcs.size < 2 || !moves) return [];
    const place = run.travelled + run.advance / 2;
    const covers = (low: number, high: number, passage: number): boolean => passage === passages[i] && low - samePlace <= place && place <= high + samePlace;
    return [...arcs].filter((arc) => {
      const behind = offsets.get(arc) ?? 0;
      const own = stretches.get(arc) ?? [];
      return !own.some(({ low, high, passage }) => covers(low, high, passage)) && !holes.some(({ low, high, passage }) => covers(low - behind, high - behind, passage));
    });
  });
}

/**
 * Heat input along the seam in kJ/mm: at the middle of a row, over `length` mm around it, the sum over the arcs of energy over length. An arc's place
 * is the travel less its offset behind arc 1. There is no value if data is missing within that length, or if one of `arcs` did not pass in the same
 * passage.
 */
export function heatSeries(rows: readonly ZonedRow[], offsets: ReadonlyMap<number, number>, length: number, efficiency: number, arcs: ReadonlySet<number>): Judged[] {
  const passages = passagesOf(rows);
  const stretches = stretchesOf(rows, passages, offsets);
  const holes = holesOf(rows, passages);
  const missing = missingArcs(rows, offsets, arcs);
  return rows.flatMap((row, i) => {
    const { run } = row.group;
    if ((missing[i] ?? []).length > 0) return [];
    if (!row.run.weld || run.on <= 0 || Number.isNaN(run.travelled)) return [];
    const place = run.travelled + run.advance / 2;
    const from = place - length / 2;
    const to = place + length / 2;
    if (holes.some((hole) => hole.passage === passages[i] && shareIn(hole, from, to) > 0)) return [];
    let heat = 0;
    let known = false;
    for (const own of stretches.values()) {
      let energy = 0;
      let distance = 0;
      for (const stretch of own) {
        if (stretch.passage !== passages[i] || stretch.high < from || stretch.low > to) continue;
        const share = shareIn(stretch, from, to);
        energy += share * stretch.energy;
        distance += share * stretch.length;
      }
      if (distance > 0) {
        heat += energy / distance / 1000;
        known = true;
      }
    }
    return known ? [{ row, value: heat * efficiency }] : [];
  });
}

/** The cooling time along the seam, by the heat input at each place; none where thickness or start temperature is not known. */
export function coolingSeries(heat: readonly Judged[], assignment: Assignment | null, shape: PlainShape): Judged[] {
  return heat.flatMap(({ row, value }) => {
    const cooling = plainCooling(value, assignment, shape);
    return cooling === null ? [] : [{ row, value: cooling.value }];
  });
}
