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
import { liveDigits } from '../shared/live-text.js';
import { textWidth } from './text-width.js';
import { tileReadings } from './tile-readings.js';
import type { TileReading } from './tile-readings.js';
import { trendStretches } from './trend.js';
import type { TrendStep } from './trend.js';
import { TrendLine } from './trend-line.js';
import { useTrends } from './use-trends.js';

/** Type of digits and of units, in units of the tile's type, before they are fitted. */
const digits = 0.72;
const unit = 0.43;
const gap = 0.45;
/** What stands above and below the values on a tile at most, and what a row of values takes with its trend, in units of the tile's type. */
const others = 6.3;
const rowHeight = 1.4;
const mostScale = 1.5;

/** The newest values large, each with the newest minutes below it as far as there is room. A row for each arc; what is of the carriage stands at the end of the first ones. */
export function TileCells({ carriage, verdict, room, high }: { readonly carriage: Carriage; readonly verdict: CarriageVerdict; readonly room: number; readonly high: number }): JSX.Element | null {
  const trends = useTrends(carriage);
  const readings = tileReadings(carriage);
  if (readings.length === 0) return null;
  const rows = rowsOf(readings);
  const many = carriage.arcs.length > 1;
  const columns = Math.max(...rows.map((row) => row.length));
  const widths = Array.from({ length: columns }, (_, at) => Math.max(...rows.map((row) => widthOf(row[at], many))));
  const wide = widths.reduce((sum, own) => sum + own, 0) + gap * (columns - 1);
  const scale = Math.min(mostScale, room / wide, Math.max(0.5, (high - others) / (rows.length * rowHeight)));
  const old = verdict.verdict === 'lost' || verdict.state.stale;
  return (
    <div class={carriage.welding ? 'tile-cells' : 'tile-cells tile-values-last'} style={{ gridTemplateColumns: widths.map((own) => `minmax(${(own * scale).toFixed(3)}em, ${own.toFixed(2)}fr)`).join(' '), columnGap: `${gap * scale}em` }}>
      {rows.flatMap((row, line) =>
        row.map((reading, column) => (
          <div key={seriesName(reading)} class="tile-cell" style={{ gridRow: line + 1, gridColumn: column + 1 }}>
            <p style={{ fontSize: `${digits * scale}em` }}>
              <Value reading={reading} many={many} old={old} />
            </p>
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

/** One arc alone has all in one row. */
function rowsOf(readings: readonly TileReading[]): readonly (readonly TileReading[])[] {
  const whole = readings.filter(({ arc }) => arc === null);
  const arcs = [...new Set(readings.flatMap(({ arc }) => (arc === null ? [] : [arc])))];
  const rows = arcs.map((arc) => readings.filter((own) => own.arc === arc));
  const [first = []] = rows;
  if (rows.length < 2) return [[...first, ...whole]];
  return rows.map((row, at) => [...row, ...whole.slice(at, at + 1)]);
}

function widthOf(reading: TileReading | undefined, many: boolean): number {
  if (reading === undefined) return 0;
  const { name, arc, value } = reading;
  // As wide as the value ever is in use, so that nothing beside it moves with its digits.
  const text = liveDigits(name, value).replace(/\d/g, '0');
  return textWidth(text, true) * digits + textWidth(`\u00a0${unitOf(name)}`) * unit + (many && arc !== null ? textWidth(`${arc}\u00a0`) * unit : 0);
}

function Value({ reading: { name, arc, value }, many, old }: { readonly reading: TileReading; readonly many: boolean; readonly old: boolean }): JSX.Element {
  const small = { fontSize: `${unit / digits}em` };
  return (
    <>
      {many && arc !== null && <span class="tile-arc" style={small}>{arc}{'\u00a0'}</span>}
      {/* Struck through for itself: a line through digits and unit at once would lie below the one or the other. */}
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
  return (
    <div class="trend">
      <TrendLine stretches={stretches} window={window} label={label} />
    </div>
  );
}
