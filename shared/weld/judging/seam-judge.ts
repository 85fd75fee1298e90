import { coolingTime } from '../cooling/cooling-time.js';
import type { RunParameters } from '../procedure/zone.js';
import type { SeamJudgedName } from '../quantities.js';
import { endTrack, type TrackedExcursion } from './excursion-track.js';
import { addDeposits, forgetBehind, heatAt, startSeamHeat, turnsBack } from './heat-along-seam.js';
import { addArcs, addUnjudged, markRestarts, noteJudged, takeBackJudged, unpassed } from './seam-passages.js';
import { judgeValue, type SeamRow, type RunJudge } from './judge-tracks.js';
import { columnOf, runColumn } from '../rows/row.js';
import type { PendingRow } from './pending-row.js';

/** The verdict of the other quantities of a row on its length. */
export interface RowVerdict {
  outside: boolean;
  missing: boolean;
}

/** Enters a row for the windows that are judged along the seam: it waits until every arc has gone past its surroundings. `share` of it is weld. */
export function judgeAlongSeam(judge: RunJudge, { rows, at, from, to }: PendingRow, share: number, mostlyWeld: boolean, { outside, missing }: RowVerdict): void {
  const { windows, passages } = judge;
  const length = columnOf(rows, at, runColumn.length) * share;
  if (judge.alongSeam.length === 0) {
    if (outside) judge.outside += length;
    else if (missing) judge.notProven += length;
    return;
  }
  if (turnsBack(judge.heat, rows, at)) endPassage(judge);
  markRestarts(passages, rows, at);
  meetArcs(judge, rows, at);
  addDeposits(judge.heat, rows, at, judge.parameters.offsets);
  const place = (from.travelled + to.travelled) / 2;
  if (share > 0) judge.seamRows.push({ place, from, to, length, mostlyWeld, outside, missing });
  settleSeam(judge, to.travelled, judge.behind + windows.heatInputLength / 2);
}

/** Judges the waiting rows: nothing that is passed from now on belongs to the same passage. */
export function endPassage(judge: RunJudge): void {
  settleSeam(judge, null);
  judge.heat = { ...startSeamHeat(), direction: judge.heat.direction };
  judge.passages.before = judge.passages.arcs.slice();
}

/** Judges the waiting rows that the carriage, now at `reached`, has left at least `ahead` mm behind; all of them if `reached` is null. */
export function settleSeam(judge: RunJudge, reached: number | null, ahead = 0): void {
  if (judge.alongSeam.length === 0) return;
  const reach = judge.windows.heatInputLength / 2;
  const { seamRows } = judge;
  let settled = false;
  for (let row = seamRows[0]; row !== undefined; row = seamRows[0]) {
    if (reached !== null && (reached - row.place) * judge.heat.direction < ahead) break;
    seamRows.shift();
    settled = true;
    settleRow(judge, row, reach);
  }
  // If no row waits, the next one lies ahead.
  const oldest = seamRows[0]?.place ?? reached;
  if (oldest !== null && (settled || seamRows.length === 0)) forgetBehind(judge.heat, oldest, reach);
}

function settleRow(judge: RunJudge, row: SeamRow, reach: number): void {
  const { place, from, to, length, mostlyWeld, outside, missing } = row;
  const { heat, passages, parameters } = judge;
  const why = unpassed(passages, heat, place);
  if (why !== null) {
    addUnjudged(passages, { from: from.time, to: to.time }, why);
    passages.excluded += length;
    return;
  }
  const verdicts = mostlyWeld ? judgePlace(judge, heatAt(heat, place, reach, parameters.thermalEfficiency), row) : { outside: false, missing: false };
  noteJudged(passages, from.time, to.time);
  passages.length += length;
  if (outside || verdicts.outside) passages.outside += length;
  else if (missing || verdicts.missing) passages.notProven += length;
}

/** Judges one place by the heat input there, kJ/mm (null where it is not known). */
function judgePlace(judge: RunJudge, heat: number | null, row: SeamRow): RowVerdict {
  const found: RowVerdict = { outside: false, missing: false };
  for (const own of judge.alongSeam) {
    const verdict = judgeValue(judge, own, seamValue(own.quantity, heat, judge.parameters), row);
    if (verdict === 'outside') found.outside = true;
    if (verdict === 'missing') found.missing = true;
  }
  return found;
}

/** The value of a quantity at a place by the heat input there; null where it is not known. */
function seamValue(quantity: SeamJudgedName, heat: number | null, { cooling }: RunParameters): number | null {
  switch (quantity) {
    case 'heatInput': return heat;
    case 't85': return coolingTime(heat, cooling)?.value ?? null;
  }
}

/** If arcs burn in a row that never burnt in the run before, what was found along the seam so far is taken back. Returns the excursions among it. */
export function meetArcs(judge: RunJudge, rows: Float64Array, at: number): TrackedExcursion[] {
  if (judge.alongSeam.length === 0) return [];
  const added = addArcs(judge.passages, rows, at);
  return added.length > 0 ? takeBack(judge, added) : [];
}

function takeBack(judge: RunJudge, added: readonly number[]): TrackedExcursion[] {
  const { passages } = judge;
  takeBackJudged(passages, added);
  judge.listener?.takeBackAlongSeam();
  const isAlongSeam = ({ quantity }: TrackedExcursion): boolean => judge.alongSeam.some((own) => own.quantity === quantity);
  const found = judge.excursions.filter(isAlongSeam);
  judge.excursions = judge.excursions.filter((own) => !isAlongSeam(own));
  for (const at of judge.alongSeam.flatMap(({ tracks }) => tracks)) {
    const track = judge.tracks[at];
    if (track === undefined) continue;
    const open = endTrack(track);
    if (open !== null) found.push(open);
    track.last = null;
  }
  judge.revision += found.length;
  return found;
}
