import type { Carriage } from '../../shared/api-types/carriage.js';
import { liveDigits } from '../shared/live-text.js';
import { unitOf } from '../shared/units.js';
import { textWidth } from './text-width.js';
import { tileReadings, type TileReading } from './tile-readings.js';

/** Type of digits and of units, in units of the tile's type, before they are fitted. */
export const cellType = { digits: 0.72, unit: 0.43 } as const;
const gap = 0.45;
/** Height of a row of values with its trend, in units of the tile's type. */
const rowHeight = 1.4;
const scales = { least: 0.5, most: 1.5 } as const;

export interface CellLayout {
  /** A row for each arc; values of the whole carriage are at the end of the first rows. */
  readonly rows: readonly (readonly TileReading[])[];
  /** Widths of the columns and what parts them, in units of the tile's type, before they are fitted. */
  readonly widths: readonly number[];
  readonly gap: number;
  /** How much larger than that all is drawn. */
  readonly scale: number;
}

/** Values with their trends, as large as a room of that width and height lets them be, in units of the tile's type. */
export function layCells(carriage: Carriage, room: number, high: number): CellLayout {
  const rows = rowsOf(tileReadings(carriage));
  const many = carriage.arcs.length > 1;
  const columns = Math.max(0, ...rows.map((row) => row.length));
  const widths = Array.from({ length: columns }, (_, at) => Math.max(...rows.map((row) => widthOf(row[at], many))));
  const wide = widths.reduce((sum, own) => sum + own, 0) + gap * (columns - 1);
  return { rows, widths, gap, scale: Math.min(scales.most, room / wide, Math.max(scales.least, high / (rows.length * rowHeight))) };
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
  const { digits, unit } = cellType;
  // As wide as the value gets in use, so that nothing beside it moves with its digits.
  const text = liveDigits(name, value).replace(/\d/g, '0');
  return textWidth(text, true) * digits + textWidth(`\u00a0${unitOf(name)}`) * unit + (many && arc !== null ? textWidth(`${arc}\u00a0`) * unit : 0);
}
