import type { JSX } from 'preact';
import type { Window } from '../shared/windows-in-force.js';
import { barScale, ownScale, shareOf } from '../shared/window-place.js';
import { historySpan, type Point } from './history.js';

const width = 600;
const height = 60;

/** The last 60 s, or 300 mm, of a value with its limits, so that drift and hunting are seen before the value leaves them. The newest is on the right; the value itself is shown beside it in digits. */
export function Sparkline({ points, window, along, stale }: { readonly points: readonly Point[]; readonly window: Window | null; readonly along: boolean; readonly stale: boolean }): JSX.Element {
  const last = points.at(-1)?.at ?? 0;
  const span = along ? historySpan.length : historySpan.time;
  const scale = window === null ? ownScale(points.map(({ value }) => value)) : barScale(window);
  const y = (value: number): number => height * (1 - shareOf(scale, value));
  const line = points.map(({ at, value }) => `${(width * (1 - (last - at) / span)).toFixed(1)},${y(value).toFixed(1)}`).join(' ');
  return (
    <svg class={stale ? 'sparkline sparkline-stale' : 'sparkline'} viewBox={`0 0 ${width} ${height}`} preserveAspectRatio="none" aria-hidden="true" focusable="false">
      {[window?.min, window?.max].map((limit, index) => (limit === undefined ? null : <line key={index} class="sparkline-limit" x1="0" x2={width} y1={y(limit)} y2={y(limit)} vector-effect="non-scaling-stroke" />))}
      {points.length > 1 && <polyline class="sparkline-line" points={line} vector-effect="non-scaling-stroke" />}
    </svg>
  );
}
