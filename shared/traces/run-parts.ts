import { at, type RunColumns } from './row-columns.js';
import { borderFor, bordersNear, orders, summed, type Pair } from './row-parts.js';
import type { RunParts } from './run-model.js';
import { newColumn } from './column-room.js';

interface Found {
  readonly parts: 1 | 2;
  readonly border: number;
  readonly speed: Pair;
}

/** Whether these parts give a row's sums over the speed to the last bit. */
function fits(c: RunColumns, row: number, span: number, found: Found): boolean {
  const { parts, border, speed } = found;
  const gives = (column: Float64Array, first: number, second: number): boolean => Object.is(summed(span, border, parts, first, second), at(column, row));
  return (
    gives(c.speed, speed.first, speed.second) &&
    gives(c.speedSquared, speed.first * speed.first, speed.second * speed.second) &&
    gives(c.speedTime, 1, 1) &&
    gives(c.length, Math.abs(speed.first) / 60, Math.abs(speed.second) / 60)
  );
}

/** The parts of a row, given that the row before ended with the value `last` and was split at `lastBorder`. */
function takeApart(c: RunColumns, row: number, span: number, last: number, lastBorder: number, lastParts: number): Found | null {
  const speeds = orders(at(c.minSpeed, row), at(c.maxSpeed, row), last);
  for (const speed of speeds) {
    const whole: Found = { parts: 1, border: lastBorder, speed };
    // Where both one part and two parts fit, continuing as before takes less space.
    if (speeds.length === 1 && lastParts !== 2 && fits(c, row, span, whole)) return whole;
    const tries = speeds.length === 1 ? bordersNear(lastBorder) : [borderFor(at(c.speed, row), span, speed.first, speed.second)];
    for (const border of tries) {
      const split: Found = { parts: 2, border, speed };
      if (border > 0 && border < span && fits(c, row, span, split)) return split;
    }
    if (speeds.length === 1 && fits(c, row, span, whole)) return whole;
  }
  return null;
}

/** Splits the rows of a run into the speeds that were sent, as far as those give back exactly the same rows. */
export function runParts(c: RunColumns): RunParts {
  const count = c.index.length;
  const column = (): Float64Array => newColumn(count);
  const p = { parts: column(), span: column(), border: column(), firstSpeed: column(), secondSpeed: column(), direction: column() };
  let speed = 0;
  let border = 0;
  let parts = 0;
  for (let row = 0; row < count; row += 1) {
    const span = Math.round(at(c.speedTime, row) * 1e6);
    const found = span > 0 ? takeApart(c, row, span, speed, border, parts) : null;
    const pair = found?.speed ?? { first: speed, second: speed };
    parts = found?.parts ?? 0;
    border = found?.border ?? border;
    speed = pair.second;
    p.parts[row] = parts;
    p.span[row] = found === null ? 100_000 - at(c.from, row) : span;
    p.border[row] = border;
    p.firstSpeed[row] = pair.first;
    p.secondSpeed[row] = pair.second;
    p.direction[row] = at(c.advance, row) < 0 ? -1 : 1;
  }
  return p;
}
