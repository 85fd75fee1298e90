import { endPassage, judgeAlongSeam, type RowVerdict } from './seam-judge.js';
import { smoothedValue, type SmoothingWindow } from './smoothing-window.js';
import { judgeValue, type RunJudge } from './judge-tracks.js';
import { endTracks, endWithArcs } from './limit-tracks.js';
import type { WeldShares } from './weld-shares.js';
import { allOut } from '../rows/zone-spans.js';
import type { PendingRow } from './pending-row.js';

/** A row is judged if at least half of the time for which it burns is weld; a rounding error in the division does not count. */
const mostlyWeld = 0.5 - 1e-9;

/**
 * Judges a row by its smoothed values among `rows`, with its zones as they are known. `complete` says that all rows which these values look ahead to
 * are there, so that judging the row again gives the same values.
 */
export function judgeRow(judge: RunJudge, rows: SmoothingWindow, zoned: PendingRow, { share, arcShares }: WeldShares, complete: boolean): void {
  const { rows: numbers, at } = zoned;
  const found: RowVerdict = { outside: false, missing: false };
  for (let k = 0; k < judge.ends.length; k += 1) {
    const own = judge.ends[k];
    if (own === undefined || ((own.arc === null ? share : arcShares[own.arc]) ?? 0) < mostlyWeld) continue;
    const verdict = judgeValue(judge, own, judgedValue(rows, zoned, k, complete), zoned);
    if (verdict === 'outside') found.outside = true;
    if (verdict === 'missing') found.missing = true;
  }
  judgeAlongSeam(judge, zoned, share, share >= mostlyWeld, found);
  if (allOut(numbers, at)) endPassage(judge);
  endWithArcs(judge, numbers, at);
}

function judgedValue(rows: SmoothingWindow, { judged, number }: PendingRow, k: number, complete: boolean): number | null {
  const known = judged[k];
  if (known !== undefined) return known;
  const value = smoothedValue(rows, k, number);
  if (complete) judged[k] = value;
  return value;
}

/** Ends the judgement of a run: open excursions end with their last judged values. */
export function endJudge(judge: RunJudge): void {
  endPassage(judge);
  endTracks(judge);
}
