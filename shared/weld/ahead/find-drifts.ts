import { driftingArcNames, driftingRunNames, type DriftingName } from '../quantities.js';
import { arcColumn, columnOf, rowLength, runColumn } from '../rows/row.js';
import { arcNumber, arcsEnd, arcStride, firstArc, type RowGroup } from '../rows/row-group.js';
import { presentSpeed } from './present-rates.js';
import type { RunSums } from '../run/run-sums.js';
import type { Window } from '../procedure/run-windows.js';
import type { RunParameters } from '../procedure/zone.js';
import { addToDrift, startDriftTrack, type DriftTrack } from './drift-track.js';
import { forecastDrift } from './forecast-drift.js';
import { ofRun, secondSums, startSecondMemory, type SecondMemory } from './second-sums.js';
import { weldSince } from './weld-since.js';

/** A quantity that is drifting out of its window: `limit` is the end that it will pass, in `leavesIn` s and `leavesAfter` mm of travel. */
export interface Drift {
  readonly arc: number | null;
  readonly quantity: DriftingName;
  readonly limit: number;
  readonly leavesIn: number;
  readonly leavesAfter: number | null;
}

interface DriftingSeries {
  readonly arc: number | null;
  readonly quantity: DriftingName;
  readonly window: Window;
  readonly track: DriftTrack;
}

/**
 * Every drift of a run that is being welded, the soonest first. `groups` are the rows of its last minute in order. Only what is judged counts: rows
 * past the ignition and between the tabs. A limit that would be passed only after the end of the weld is not reported. A caller that asks repeatedly
 * passes the same `memory`: that saves time and changes no result.
 */
export function findDrifts(groups: readonly RowGroup[], sums: Pick<RunSums, 'parameters' | 'ignitions'>, memory: SecondMemory = startSecondMemory()): Drift[] {
  const { windows, weldTo, turn } = sums.parameters;
  const newest = groups.at(-1);
  if (windows === null || newest === undefined) return [];
  const { rows, at } = newest;
  if (columnOf(rows, at, runColumn.on) === 0) return [];
  const followed: DriftingSeries[] = [];
  let since = 0;
  const end = arcsEnd(rows, at);
  for (let own = firstArc(at); own < end; own += arcStride) {
    if (columnOf(rows, own, arcColumn.on) === 0) continue;
    const arc = arcNumber(rows, own);
    const begun = weldSince(groups, arc, sums);
    since = Math.max(since, begun);
    const ofArc = followedOf(arc, driftingArcNames, windows.arcs[arc] ?? {});
    feedDrift(ofArc, groups, arc, begun, sums.parameters, memory);
    followed.push(...ofArc);
  }
  const ofCarriage = followedOf(null, driftingRunNames, windows.run);
  feedDrift(ofCarriage, groups, ofRun, since, sums.parameters, memory);
  followed.push(...ofCarriage);
  const now = ((columnOf(rows, at, runColumn.index) + 1) * rowLength) / 1e6;
  const toWeldEnd = Math.min(weldTo, turn) - columnOf(rows, at, runColumn.travelled) - columnOf(rows, at, runColumn.advance);
  const speed = presentSpeed(groups);
  return followed
    .flatMap(({ arc, quantity, window, track }): Drift[] => {
      const forecast = forecastDrift(track, window, now);
      if (forecast === null) return [];
      const { limit, leavesIn, level } = forecast;
      const mean = quantity === 'travelSpeed' ? (level + limit) / 2 : speed;
      const leavesAfter = mean === null ? null : (Math.abs(mean) / 60) * leavesIn;
      return leavesAfter !== null && leavesAfter > toWeldEnd ? [] : [{ arc, quantity, limit, leavesIn, leavesAfter }];
    })
    .sort((a, b) => a.leavesIn - b.leavesIn);
}

function followedOf<Name extends DriftingName>(arc: number | null, names: readonly Name[], windows: Readonly<Partial<Record<Name, Window>>>): DriftingSeries[] {
  return names.flatMap((quantity) => {
    const window = windows[quantity];
    return window === undefined ? [] : [{ arc, quantity, window, track: startDriftTrack() }];
  });
}

/** Feeds rows from index `since` on to the tracks of one arc, or (`ofRun`) of the run. */
function feedDrift(followed: readonly DriftingSeries[], rows: readonly RowGroup[], of: number, since: number, parameters: RunParameters, memory: SecondMemory): void {
  if (followed.length === 0) return;
  for (const { second, sums } of secondSums(rows, of, since, parameters, memory)) {
    for (const { quantity, track } of followed) {
      const sum = sums[quantity];
      if (sum !== undefined && sum.rows > 0) addToDrift(track, second, sum.value, sum.weight);
    }
  }
}
