import { useRef } from 'preact/hooks';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { seriesName } from '../shared/series-name.js';
import { stationQuantities } from './station-quantities.js';

/** How much of the past is shown: 60 s, or 300 mm of heat input, as it is judged along the seam. */
export const historySpan = { time: 60_000, length: 300 } as const;

export interface Point {
  /** ms, or mm travelled for heat input. */
  readonly at: number;
  readonly value: number;
}

export type History = ReadonlyMap<string, readonly Point[]>;

/** The history with the carriage's newest values. Nothing is added while no arc burns, and a new run begins with an empty history. */
export function withPresent(history: History, carriage: Carriage): History {
  const next = new Map(history);
  const at = carriage.lastSeen === null ? Number.NaN : Date.parse(carriage.lastSeen);
  for (const own of stationQuantities(carriage)) {
    if (own.value === null || !own.on) continue;
    const along = own.name === 'heatInput';
    const place = along ? Math.abs(carriage.travelled ?? Number.NaN) : at;
    if (Number.isNaN(place)) continue;
    const before = next.get(seriesName(own)) ?? [];
    const last = before.at(-1);
    if (last !== undefined && place === last.at) continue;
    const span = along ? historySpan.length : historySpan.time;
    // Going back, or a place far ahead, is another stretch.
    const kept = last === undefined || place < last.at || place - last.at > span ? [] : before.filter((point) => point.at >= place - span);
    next.set(seriesName(own), [...kept, { at: place, value: own.value }]);
  }
  return next;
}

/** The carriage's values since the page was opened, for the current run. */
export function useHistory(carriage: Carriage): History {
  const held = useRef<{ readonly run: string | null; readonly seen: string | null; readonly history: History }>({ run: null, seen: null, history: new Map() });
  const { run, lastSeen } = carriage;
  if (held.current.run !== run) held.current = { run, seen: null, history: new Map() };
  if (held.current.seen !== lastSeen) held.current = { run, seen: lastSeen, history: withPresent(held.current.history, carriage) };
  return held.current.history;
}
