import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { quantityWord } from '../shared/alarm-sentence.js';
import { capital } from '../shared/capital.js';
import type { CarriageVerdict } from '../shared/carriage-verdict.js';
import { serverNow } from '../shared/now.js';
import { seriesName } from '../shared/series-name.js';
import { shown, unitOf } from '../shared/units.js';
import { wordsOf } from '../shared/words.js';
import { floorWords } from './floor-words.js';
import { cellType, type CellLayout } from './lay-cells.js';
import { liveDigits } from '../shared/live-text.js';
import type { TileReading } from './tile-readings.js';
import { trendStretches, type TrendStep } from './trend.js';
import { TrendLine } from './trend-line.js';
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
  const say = wordsOf(floorWords);
  const what = arc === null || !many ? capital(quantityWord(name)) : say.valueOfArc(capital(quantityWord(name)), arc);
  const all = stretches.flat();
  const limits = [...(window?.min === undefined ? [] : [say.limitMin(shown(name, window.min))]), ...(window?.max === undefined ? [] : [say.limitMax(shown(name, window.max))])];
  const label = all.length === 0 ? say.trendEmpty(what) : say.trend(what, shown(name, Math.min(...all.map(({ least }) => least))), shown(name, Math.max(...all.map(({ greatest }) => greatest))), limits);
  return <div class="trend"><TrendLine stretches={stretches} window={window} label={label} /></div>;
}
