import { passagesOf } from './heat-series.js';
import type { ZonedRow } from './window-types.js';

/**
 * With which row (its number, of 100 ms since 1970) every arc has left the surroundings of a row's middle behind, so that the heat
 * input there can be judged: that row, or the first of another passage, or the one in which the last arc went out (`outs`, of
 * each burning of the run; Infinity where it burns on).
 */
export function judgedBehind(rows: readonly ZonedRow[], offsets: ReadonlyMap<number, number>, length: number, outs: readonly number[]): (row: ZonedRow) => number {
  const passages = passagesOf(rows);
  const numbers = new Map(rows.map((row, i) => [row, i]));
  const ahead = length / 2 + Math.max(0, ...offsets.values());
  return (row) => {
    const at = numbers.get(row) ?? 0;
    const { travelled, advance } = row.group.run;
    const place = travelled + advance / 2;
    for (let i = at; i < rows.length; i += 1) {
      const later = rows[i];
      if (later === undefined || later.run.burn !== row.run.burn) break;
      const { run } = later.group;
      if (passages[i] !== passages[at] || Math.sign(run.advance) * (run.travelled + run.advance - place) >= ahead) return run.index;
    }
    return outs[row.run.burn] ?? Number.POSITIVE_INFINITY;
  };
}
