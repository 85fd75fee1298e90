import { alternatesIn } from '../rows/alternating.js';
import type { JudgedWindow } from '../procedure/judged-window.js';
import { endWithArcs, followValue, startEnds, type LimitTracks } from './limit-tracks.js';
import { quantities, type MomentaryName } from '../quantities.js';
import { arcColumn, columnOf, runColumn } from '../rows/row.js';
import { arcRow } from '../rows/row-group.js';
import { judgingDefaults } from '../procedure/run-windows.js';
import type { RunParameters } from '../procedure/zone.js';
import type { PendingRow } from './pending-row.js';

/** Below this share of the lower limit, or without one below this speed in mm/min, a carriage stands still; common practice, no source. */
const standingShare = 0.2;
const standingSpeed = 30;

/** Starts the tracks that only warn and are no part of the record: rows are judged as they come, without smoothing and whatever their zone. */
export function startMomentary({ windows }: RunParameters): LimitTracks<MomentaryName> {
  const lowest = windows?.run.travelSpeed?.min;
  const polarities = Object.entries(windows?.polarity ?? {});
  const watched: JudgedWindow<MomentaryName>[] = [
    { arc: null, quantity: 'travelStopped', window: { min: lowest === undefined ? standingSpeed : standingShare * lowest } },
    ...polarities.map(([arc, sign]): JudgedWindow<MomentaryName> => ({ arc: Number(arc), quantity: 'polarity', window: sign === 1 ? { min: 0 } : { max: 0 } })),
  ];
  const offDelay = windows?.offDelay ?? judgingDefaults.offDelay * 1e6;
  const tracks: LimitTracks['tracks'] = [];
  const ends = watched.map((own) => startEnds(tracks, own, 0, { onDelay: quantities[own.quantity].judged.onDelay * 1e6, offDelay }));
  return { ends, tracks, excursions: [], revision: 0 };
}

export function judgeMoment(judge: LimitTracks<MomentaryName>, { rows, at, from, to }: PendingRow): void {
  for (const own of judge.ends) {
    const value = own.arc === null ? speedOf(rows, at) : signedCurrentOf(rows, at, own.arc);
    if (value !== null) followValue(judge, own, value, from, to);
  }
  endWithArcs(judge, rows, at);
}

/** Speed in either direction, mm/min. */
function speedOf(rows: Float64Array, at: number): number | null {
  const time = columnOf(rows, at, runColumn.speedTime);
  return columnOf(rows, at, runColumn.on) > 0 && time > 0 ? Math.abs(columnOf(rows, at, runColumn.speed) / time) : null;
}

/** Mean current with its sign, A; null for an alternating arc. */
function signedCurrentOf(rows: Float64Array, at: number, arc: number): number | null {
  const own = arcRow(rows, at, arc);
  const on = own === null ? 0 : columnOf(rows, own, arcColumn.on);
  return own !== null && on > 0 && !alternatesIn(columnOf(rows, own, arcColumn.flags)) ? columnOf(rows, own, arcColumn.current) / on : null;
}
