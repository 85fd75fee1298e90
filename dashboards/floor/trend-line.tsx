import type { JSX } from 'preact';
import { barScale, ownScale, shareOf } from '../shared/window-place.js';
import type { Window } from '../shared/windows-in-force.js';
import { trendSteps, type TrendStep } from './trend.js';

const height = 40;

/** The newest minutes of a value between its limits, the newest on the right; nothing is drawn where nothing was measured. Values beyond a limit lie beyond its line and, where they may have been judged, are drawn thicker. */
export function TrendLine({ stretches, window, label }: { readonly stretches: readonly (readonly TrendStep[])[]; readonly window: Window | null; readonly label: string }): JSX.Element {
  const scale = window === null || (window.min === undefined && window.max === undefined) ? ownScale(stretches.flat().flatMap(({ least, greatest }) => [least, greatest])) : barScale(window);
  const y = (value: number): string => (height * (1 - shareOf(scale, value))).toFixed(1);
  const isOut = ({ least, greatest }: TrendStep): boolean => (window?.min !== undefined && least < window.min) || (window?.max !== undefined && greatest > window.max);
  const line = stretches.map((stretch) => pathOf(stretch, y)).join('');
  const out = stretches.flatMap((stretch) => judgedOf(stretch).filter(isOut).map((own) => pathOf([own], y))).join('');
  return (
    <svg class="trend-line" viewBox={`0 0 ${trendSteps} ${height}`} preserveAspectRatio="none" role="img" aria-label={label}>
      {[window?.min, window?.max].map((limit, index) => (limit === undefined ? null : <line key={index} class="trend-limit" x1="0" x2={trendSteps} y1={y(limit)} y2={y(limit)} vector-effect="non-scaling-stroke" />))}
      <path class="trend-values" d={line} vector-effect="non-scaling-stroke" />
      {out !== '' && <path class="trend-out" d={out} vector-effect="non-scaling-stroke" />}
    </svg>
  );
}

/** How many steps at the beginning and at the end of a stretch may be arc start or crater: neither is judged, so neither is shown as out. */
const unjudged = { begin: 2, end: 2 } as const;

function judgedOf(stretch: readonly TrendStep[]): readonly TrendStep[] {
  const isOver = (stretch.at(-1)?.at ?? 0) < trendSteps - 1;
  return stretch.slice(unjudged.begin, isOver ? -unjudged.end : undefined);
}

/** A line from step to step through the least and the greatest value of each. A single step is a dash as wide as the step. */
function pathOf(stretch: readonly TrendStep[], y: (value: number) => string): string {
  return stretch.map(({ at, least, greatest }, index) => `${index === 0 ? 'M' : 'L'}${at} ${y(least)}L${at + 1} ${y(greatest)}`).join('');
}
