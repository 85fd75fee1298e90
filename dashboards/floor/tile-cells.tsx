import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { quantityWord } from '../shared/alarm-sentence.js';
import type { CarriageVerdict } from '../shared/carriage-verdict.js';
import { serverNow } from '../shared/now.js';
import { seriesName } from '../shared/series-name.js';
import { shown, unitOf } from '../shared/units.js';
import { capital } from '../shared/words.js';
import { floorWords } from './floor-words.js';
import { cellType, type CellLayout } from './lay-cells.js';
import { liveDigits } from '../shared/live-text.js';
import { barScale, ownScale, shareOf, type Window } from '../shared/window-place.js';
import type { TileReading } from './tile-readings.js';
import { trendSteps, trendStretches, type TrendStep } from './trend.js';
import { useTrends } from './use-trends.js';

/** The newest values in large digits, each with its newest minutes below it, as far as there is room. */
export function TileCells({ carriage, verdict, cells: { rows, widths, gap, scale } }: { readonly carriage: Carriage; readonly verdict: CarriageVerdict; readonly cells: CellLayout }): JSX.Element | null {
  const trends = useTrends(carriage);
  if (widths.length === 0) return null;
  const many = carriage.arcs.length > 1;
  const old = verdict.verdict === 'lost' || verdict.state.stale;
  return (
    <div class={carriage.welding ? 'tile-cells' : 'tile-cells tile-values-last'} style={{ gridTemplateColumns: widths.map((own) => `minmax(${(own * scale).toFixed(3)}em, ${own.toFixed(2)}fr)`).join(' '), columnGap: `${gap * scale}em` }}>
      {rows.flatMap((row, line) =>
        row.map((reading, column) => (
          <div key={seriesName(reading)} class="tile-cell" style={{ gridRow: line + 1, gridColumn: column + 1 }}>
            <p style={{ fontSize: `${cellType.digits * scale}em` }}><Value reading={reading} many={many} old={old} /></p>
            <Trend reading={reading} stretches={stretchesOf(trends.get(seriesName(reading)))} many={many} />
          </div>
        )),
      )}
    </div>
  );
}

function stretchesOf(trend: Parameters<typeof trendStretches>[0] | undefined): readonly (readonly TrendStep[])[] {
  return trend === undefined ? [] : trendStretches(trend, serverNow.value);
}

function Value({ reading: { name, arc, value }, many, old }: { readonly reading: TileReading; readonly many: boolean; readonly old: boolean }): JSX.Element {
  const small = { fontSize: `${cellType.unit / cellType.digits}em` };
  return (
    <>
      {many && arc !== null && <span class="tile-arc" style={small}>{arc}{'\u00a0'}</span>}
      {/* Digits and unit have different sizes, so a common line would strike through only one of them well. */}
      <strong>{old ? <s>{liveDigits(name, value)}</s> : liveDigits(name, value)}</strong>
      <span style={small}>{'\u00a0'}{unitOf(name)}</span>
    </>
  );
}

function Trend({ reading: { name, arc, window }, stretches, many }: { readonly reading: TileReading; readonly stretches: readonly (readonly TrendStep[])[]; readonly many: boolean }): JSX.Element {
  const say = floorWords();
  const what = arc === null || !many ? capital(quantityWord(name)) : say.valueOfArc(capital(quantityWord(name)), arc);
  const all = stretches.flat();
  const limits = [...(window?.min === undefined ? [] : [say.limitMin(shown(name, window.min))]), ...(window?.max === undefined ? [] : [say.limitMax(shown(name, window.max))])];
  const label = all.length === 0 ? say.trendEmpty(what) : say.trend(what, shown(name, Math.min(...all.map(({ least }) => least))), shown(name, Math.max(...all.map(({ greatest }) => greatest))), limits);
  return <div class="trend"><TrendLine stretches={stretches} window={window} label={label} /></div>;
}

const height = 40;

/** The newest minutes of a value between its limits, the newest on the right; nothing is drawn where nothing was measured. Values beyond a limit lie beyond its line and, where they may have been judged, are drawn thicker. */
function TrendLine({ stretches, window, label }: { readonly stretches: readonly (readonly TrendStep[])[]; readonly window: Window | null; readonly label: string }): JSX.Element {
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
