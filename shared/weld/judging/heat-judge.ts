import { endTrack } from './excursion-track.js';
import { addDeposits, forgetBehind, heatAt, startSeamHeat, turnsBack } from './heat-along-seam.js';
import { addArcs, addUnjudged, markRestarts, noteJudged, takeBackJudged, unpassed } from './heat-passages.js';
import { judgeValue, type HeatRow, type RunJudge } from './judge-tracks.js';
import { columnOf, runColumn } from '../rows/row.js';
import type { PendingRow } from './pending-row.js';

/** The verdict of the other quantities of a row on its length. */
export interface RowVerdict {
  outside: boolean;
  missing: boolean;
}

/** Enters a row for heat input, judged along the seam: it waits until every arc has gone past its surroundings. `share` of it is weld. */
export function judgeHeat(judge: RunJudge, { rows, at, from, to }: PendingRow, share: number, mostlyWeld: boolean, { outside, missing }: RowVerdict): void {
  const { windows, passages } = judge;
  const length = columnOf(rows, at, runColumn.length) * share;
  if (windows.run.heatInput === undefined) {
    if (outside) judge.outside += length;
    else if (missing) judge.notProven += length;
    return;
  }
  if (turnsBack(judge.heat, rows, at)) endPassage(judge);
  markRestarts(passages, rows, at);
  meetArcs(judge, rows, at);
  addDeposits(judge.heat, rows, at, judge.parameters.offsets);
  const place = (from.travelled + to.travelled) / 2;
  if (share > 0) judge.heatRows.push({ place, from, to, length, mostlyWeld, outside, missing });
  settleHeat(judge, to.travelled, judge.behind + windows.heatInputLength / 2);
}

/** Judges the waiting rows: nothing that is passed from now on belongs to the same passage. */
export function endPassage(judge: RunJudge): void {
  settleHeat(judge, null);
  judge.heat = { ...startSeamHeat(), direction: judge.heat.direction };
  judge.passages.before = judge.passages.arcs.slice();
}

/** Judges the waiting rows that the carriage, now at `reached`, has left at least `ahead` mm behind; all of them if `reached` is null. */
export function settleHeat(judge: RunJudge, reached: number | null, ahead = 0): void {
  if (judge.heatInput === null) return;
  const reach = judge.windows.heatInputLength / 2;
  const { heatRows } = judge;
  let settled = false;
  for (let row = heatRows[0]; row !== undefined; row = heatRows[0]) {
    if (reached !== null && (reached - row.place) * judge.heat.direction < ahead) break;
    heatRows.shift();
    settled = true;
    settleRow(judge, row, reach);
  }
  // If no row waits, the next one lies ahead.
  const oldest = heatRows[0]?.place ?? reached;
  if (oldest !== null && (settled || heatRows.length === 0)) forgetBehind(judge.heat, oldest, reach);
}

function settleRow(judge: RunJudge, row: HeatRow, reach: number): void {
  const { place, from, to, length, mostlyWeld, outside, missing } = row;
  const { heat, heatInput, passages, parameters } = judge;
  if (heatInput === null) return;
  const why = unpassed(passages, heat, place);
  if (why !== null) {
    addUnjudged(passages, { from: from.time, to: to.time }, why);
    passages.excluded += length;
    return;
  }
  const verdict = mostlyWeld ? judgeValue(judge, heatInput, heatAt(heat, place, reach, parameters.thermalEfficiency), row) : 'inside';
  noteJudged(passages, from.time, to.time);
  passages.length += length;
  if (outside || verdict === 'outside') passages.outside += length;
  else if (missing || verdict === 'missing') passages.notProven += length;
}

/** If arcs burn in a row that never burnt in the run before, what was found about heat input so far is taken back. */
export function meetArcs(judge: RunJudge, rows: Float64Array, at: number): void {
  if (judge.heatInput === null) return;
  const added = addArcs(judge.passages, rows, at);
  if (added.length > 0) takeBack(judge, added);
}

function takeBack(judge: RunJudge, added: readonly number[]): void {
  const { passages } = judge;
  takeBackJudged(passages, added);
  judge.listener?.takeBackHeat();
  const found = judge.excursions.filter((own) => own.quantity === 'heatInput');
  judge.excursions = judge.excursions.filter((own) => own.quantity !== 'heatInput');
  for (const at of judge.heatInput?.tracks ?? []) {
    const track = judge.tracks[at];
    if (track === undefined) continue;
    const open = endTrack(track);
    if (open !== null) found.push(open);
    track.last = null;
  }
  passages.takenBack.push(...found);
  judge.revision += found.length;
}
