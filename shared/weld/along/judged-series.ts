import { windowsAlongSeam, windowsOnRows, type JudgedWindow } from '../procedure/judged-window.js';
import { addRow, passAllRows, startRunSums } from '../run/run-sums.js';
import type { RowGroup } from '../rows/row-group.js';
import type { RunParameters } from '../procedure/zone.js';

/** The judged values of one quantity in order, in columns: the beginning of each row (µs), its place (mm travelled), and the value. */
export interface JudgedSeries extends Pick<JudgedWindow, 'arc' | 'quantity'> {
  readonly times: number[];
  readonly travelled: number[];
  readonly values: number[];
}

/**
 * The values that the judge sees in a run: its rows go through the same judge that finds its excursions, so the ends and worst values of those are
 * among these. One series for each window; a row in which the quantity is not judged adds nothing. `finished` says whether the run is over.
 */
export function judgedSeries(groups: Iterable<RowGroup>, parameters: RunParameters, finished: boolean): JudgedSeries[] {
  const sums = startRunSums(parameters);
  const judge = sums.settled;
  if (judge === null) return [];
  const all = [...windowsOnRows(judge.windows), ...windowsAlongSeam(judge.windows)].map(({ arc, quantity }): JudgedSeries => ({ arc, quantity, times: [], travelled: [], values: [] }));
  const places = new Map<unknown, JudgedSeries>();
  for (const [at, ends] of [...judge.ends, ...judge.alongSeam].entries()) {
    const own = all[at];
    if (own !== undefined) places.set(ends, own);
  }
  judge.listener = {
    value: (ends, value, from) => {
      const own = places.get(ends);
      own?.times.push(from.time);
      own?.travelled.push(from.travelled);
      own?.values.push(value);
    },
    takeBackAlongSeam: () => {
      for (const ends of judge.alongSeam) {
        const own = places.get(ends);
        if (own !== undefined) own.times.length = own.travelled.length = own.values.length = 0;
      }
    },
  };
  for (const { rows, at } of groups) addRow(sums, rows, at);
  passAllRows(sums, finished);
  return all;
}
