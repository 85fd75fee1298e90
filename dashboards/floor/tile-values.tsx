import type { JSX } from 'preact';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { CarriageVerdict } from '../shared/carriage-verdict.js';
import { liveDigits } from '../shared/live-text.js';
import { unitOf } from '../shared/units.js';
import type { TileKind } from './floor-layout.js';
import { textWidth } from './text-width.js';
import { tileReadings, type TileReading } from './tile-readings.js';

type ShortKind = Exclude<TileKind, 'full' | 'trends'>;

/** The largest and the least type of values, in units of the tile's type: what would be smaller is left out, heat input first. */
const types = { lines: { most: 0.667, least: 0.4 }, pair: { most: 0.5, least: 0.36 }, line: { most: 0.42, least: 0.3 } } as const;
/** Between values, and from one line to the next, in units of their type. */
const gap = 0.6;
const lineHeight = 1.2;
/** The room for the first line and the job beside the values, in units of the tile's type. */
const besides = 2.55;
/** Smaller type cannot be read on any screen, px; common practice, no source. Values that would be smaller are left out. */
const leastType = 11;

/** The width of the values at the end of a line, in units of the tile's type (`unit` px): at least as much as those of one arc need. */
export function valuesAtEnd(unit: number): number {
  return Math.max(2.45, (leastType / unit) * widthOf(['0000\u00a0A', '00.0\u00a0V']));
}

/** The newest values: current and voltage of each arc, travel speed, heat input. With the arc off they are the last ones. */
export function TileValues({ carriage, verdict, kind, room, high, unit }: { readonly carriage: Carriage; readonly verdict: CarriageVerdict; readonly kind: ShortKind; readonly room: number; readonly high: number; readonly unit: number }): JSX.Element | null {
  const readings = tileReadings(carriage);
  if (readings.length === 0) return null;
  const least = Math.max(types[kind].least, leastType / unit);
  const most = Math.max(types[kind].most, least);
  const { lines, type } = kind === 'line' ? stacked(readings, high, valuesAtEnd(unit), { most, least }) : inLines(readings, room, kind === 'lines' ? high - besides : 0, { most, least });
  const old = verdict.verdict === 'lost' || verdict.state.stale;
  const look = carriage.welding ? 'tile-values' : 'tile-values tile-values-last';
  return (
    <div class={look} style={{ fontSize: `${type.toFixed(3)}em` }}>
      {lines.map((texts, line) => (
        <p key={line} style={{ columnGap: `${gap}em` }}>{texts.map((text) => <span key={text}>{old ? <s>{text}</s> : text}</span>)}</p>
      ))}
    </div>
  );
}

function textOf({ name, value }: TileReading): string {
  return `${liveDigits(name, value)}\u00a0${unitOf(name)}`;
}

function widthOf(texts: readonly string[]): number {
  return texts.reduce((sum, text) => sum + textWidth(text.replace(/\d/g, '0')), 0) + gap * Math.max(0, texts.length - 1);
}

/** All in one line, or those of the arcs above those of the carriage where that is larger and there is room; where both are too small, heat input is left out, then the arcs from the last on. */
function inLines(readings: readonly TileReading[], room: number, high: number, { most, least }: { readonly most: number; readonly least: number }): { readonly lines: readonly (readonly string[])[]; readonly type: number } {
  let kept = readings;
  for (;;) {
    const texts = kept.map(textOf);
    const two = [kept.filter(({ arc }) => arc !== null).map(textOf), kept.filter(({ arc }) => arc === null).map(textOf)];
    const asOne = { lines: [texts], type: Math.min(most, room / widthOf(texts)) };
    const asTwo = { lines: two, type: Math.min(most, high / (2 * lineHeight), room / Math.max(...two.map(widthOf))) };
    const best = asTwo.type > asOne.type && two.every((line) => line.length > 0) ? asTwo : asOne;
    const last = Math.max(...kept.map(({ arc }) => arc ?? 0));
    const hasHeat = kept.some(({ name }) => name === 'heatInput');
    const fewer = hasHeat ? kept.filter(({ name }) => name !== 'heatInput') : kept.filter(({ arc }) => arc !== last);
    if (best.type >= least || fewer.length === 0 || fewer.length === kept.length) return best;
    kept = fewer;
  }
}

/** A line for each arc and one for the carriage, or only the arcs if there is no room for more. There is no room for more than two arcs; the station shows those. */
function stacked(readings: readonly TileReading[], high: number, wide: number, { most, least }: { readonly most: number; readonly least: number }): { readonly lines: readonly (readonly string[])[]; readonly type: number } {
  const arcs = [...new Set(readings.flatMap(({ arc }) => (arc === null ? [] : [arc])))];
  const own = arcs.length > 2 ? [] : arcs.map((arc) => readings.filter((one) => one.arc === arc).map(textOf));
  const whole = readings.filter(({ arc }) => arc === null).map((one) => [textOf(one)]);
  const inside = high - 0.28;
  const lines = [...own, ...whole.slice(0, Math.max(1, Math.min(2, Math.floor(inside / (lineHeight * least)) - own.length)))];
  // Heat input gets a line only if that makes nothing smaller.
  const typeOf = (some: readonly (readonly string[])[]): number => Math.min(most, inside / (some.length * lineHeight), wide / Math.max(...some.map(widthOf)));
  const fewer = lines.slice(0, -1);
  const kept = whole.length > 1 && lines.length > own.length + 1 && typeOf(fewer) > typeOf(lines) + 0.001 ? fewer : lines;
  // Rounding errors do not count.
  const read = own.length > 0 && typeOf(kept) < least - 0.001 ? own : kept;
  return { lines: read, type: typeOf(read) };
}
