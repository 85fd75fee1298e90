import type { DriftingName } from '../quantities.js';
import { driftingArcNames, driftingRunNames } from '../quantities.js';
import type { RunRowGroup } from '../row.js';
import { rowLength } from '../row.js';
import { presentSpeed } from '../present-rates.js';
import type { RunSums } from '../run-sums.js';
import type { Window } from '../run-windows.js';
import { startDriftTrack } from './drift-track.js';
import type { Followed } from './follow-rows.js';
import { followRows } from './follow-rows.js';
import { forecastDrift } from './forecast-drift.js';
import type { SecondMemory } from './second-sums.js';
import { ofRun, startSecondMemory } from './second-sums.js';
import { weldSince } from './weld-since.js';

/** A quantity on its way out of its window: `limit` is the end that it will pass, in `leavesIn` s and `leavesAfter` mm of travel. */
export interface Drift {
  readonly arc: number | null;
  readonly quantity: DriftingName;
  readonly limit: number;
  readonly leavesIn: number;
  readonly leavesAfter: number | null;
}

/**
 * Every drift of a run that is being welded, the soonest first. `rows` are its newest ones in order, those of the last minute; only what is
 * judged counts: past the ignition, between the tabs. What would happen behind the end of the weld is not told. Whoever asks again as a run
 * goes on hands in the same `memory`: it makes no difference but to the time that it takes.
 */
export function findDrifts(rows: readonly RunRowGroup[], sums: Pick<RunSums, 'parameters' | 'ignitions'>, memory: SecondMemory = startSecondMemory()): Drift[] {
  const { windows, weldTo, turn } = sums.parameters;
  const newest = rows.at(-1);
  if (windows === null || newest === undefined || newest.run.on === 0) return [];
  const followed: Followed[] = [];
  let since = 0;
  for (const { arc, row } of newest.arcs) {
    if (row.on === 0) continue;
    const own = weldSince(rows, arc, sums);
    since = Math.max(since, own);
    const ofArc = followedOf(arc, driftingArcNames, windows.arcs[arc] ?? {});
    followRows(ofArc, rows, arc, own, sums.parameters, memory);
    followed.push(...ofArc);
  }
  const own = followedOf(null, driftingRunNames, windows.run);
  followRows(own, rows, ofRun, since, sums.parameters, memory);
  followed.push(...own);
  const now = ((newest.run.index + 1) * rowLength) / 1e6;
  const toWeldEnd = Math.min(weldTo, turn) - newest.run.travelled - newest.run.advance;
  const speed = presentSpeed(rows);
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

function followedOf<Name extends DriftingName>(arc: number | null, names: readonly Name[], windows: Readonly<Partial<Record<Name, Window>>>): Followed[] {
  return names.flatMap((quantity) => {
    const window = windows[quantity];
    return window === undefined ? [] : [{ arc, quantity, window, track: startDriftTrack() }];
  });
}
