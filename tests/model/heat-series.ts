import type { Judged, ZonedRow } from './window-types.js';

/** Going back by more than this begins another passage, mm. */
const turnsAfter = 1;

/** Which passage each row belongs to: a place passed again is never added to the first passage. */
function passagesOf(rows: readonly ZonedRow[]): number[] {
  let passage = 0;
  let heading = 0;
  let extreme = 0;
  let turned = 0;
  const passages: number[] = [];
  rows.forEach(({ group: { run } }, i) => {
    passages.push(passage);
    if (Number.isNaN(run.travelled)) return;
    // a restart may take up at another place than the last row left
    for (const place of [run.travelled, run.travelled + run.advance]) {
      if (heading === 0) heading = Math.sign(place - extreme);
      if ((place - extreme) * heading >= 0) {
        extreme = place;
        turned = i + (place === run.travelled ? 0 : 1);
      } else if (Math.abs(place - extreme) > turnsAfter) {
        passage += 1;
        passages.fill(passage, Math.min(turned, i));
        heading = -heading;
        extreme = place;
        turned = i + 1;
      }
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

/** Part of a stretch that lies in `[from, to]`; one without length lies in it or not. */
function shareIn(stretch: Stretch, from: number, to: number): number {
  const extent = stretch.high - stretch.low;
  if (extent === 0) return stretch.low >= from && stretch.low < to ? 1 : 0;
  return Math.max(0, Math.min(to, stretch.high) - Math.max(from, stretch.low)) / extent;
}

/**
 * Heat input along the seam in kJ/mm: at the place of a row's middle, over `length` mm around it, energy over length of
 * each arc, added. An arc's place is travelled less its offset behind arc 1.
 */
export function heatSeries(rows: readonly ZonedRow[], offsets: ReadonlyMap<number, number>, length: number, efficiency: number): Judged[] {
  const passages = passagesOf(rows);
  const stretches = new Map<number, Stretch[]>();
  rows.forEach(({ group }, i) => {
    for (const { arc, row } of group.arcs) {
      if (row.on <= 0 || Number.isNaN(row.travelled) || Number.isNaN(row.length)) continue;
      const from = row.travelled - (offsets.get(arc) ?? 0);
      const to = from + Math.sign(group.run.advance) * row.length;
      const own = stretches.get(arc) ?? [];
      own.push({ low: Math.min(from, to), high: Math.max(from, to), length: row.length, energy: row.energy, passage: passages[i] ?? 0 });
      stretches.set(arc, own);
    }
  });
  return rows.flatMap((row, i) => {
    const { run } = row.group;
    if (!row.run.weld || run.on <= 0 || Number.isNaN(run.travelled)) return [];
    const place = run.travelled + run.advance / 2;
    let heat = 0;
    let known = false;
    for (const own of stretches.values()) {
      let energy = 0;
      let distance = 0;
      for (const stretch of own) {
        if (stretch.passage !== passages[i]) continue;
        const share = shareIn(stretch, place - length / 2, place + length / 2);
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
