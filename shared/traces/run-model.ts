import { rowLength } from '../weld/rows/row.js';
import { evenSquares, greater, less, lesser, perSecond, product, quotient, shifted } from './column-arithmetic.js';
import { heldParts, type ColumnPort } from './column-port.js';
import { always, exactly, onward, reconstructedOr, reconstructedOrOnward } from './expectation.js';
import type { RunColumns } from './row-columns.js';
import { partLengths, partProducts, partSums, partTimes, type Parts } from './row-parts.js';
import { copied, newColumn } from './column-room.js';

/** The parts that a run's rows are made from, as far as they could be reconstructed; see row-parts.ts. */
export interface RunParts extends Parts {
  readonly firstSpeed: Float64Array;
  readonly secondSpeed: Float64Array;
  /** 1 where the carriage goes forward over the row, −1 where it goes back. */
  readonly direction: Float64Array;
}

/** Predicts every column of a run's rows, as `arcModel` does for an arc. */
export function runModel(port: ColumnPort, known?: RunColumns & RunParts): RunColumns {
  const { count } = port;
  const index = port.column(known?.index, onward(0, newColumn(count).fill(1)));
  const from = port.column(known?.from, always(0));
  const flags = port.apart('flags', known?.flags, () => onward(0));
  const gap = port.apart('gap', known?.gap, () => always(0));
  const gapLength = port.apart('gapLength', known?.gapLength, () => always(0));

  const parts = port.column(known?.parts, onward(2));
  const span = port.column(known?.span, exactly(less(rowLength, from)));
  const border = port.column(known?.border, onward(0));
  const times = partTimes({ parts, span, border });
  const speedTime = port.column(known?.speedTime, reconstructedOrOnward(parts, copied(times.whole)));
  const on = port.apart('on', known?.on, () => exactly(quotient(span, newColumn(count).fill(1e6))));

  const { first, second } = heldParts(port, parts, known?.firstSpeed, known?.secondSpeed);
  const speed = port.column(known?.speed, reconstructedOrOnward(parts, partSums(times, first, second)));
  const speedSquared = port.apart('speedSquared', known?.speedSquared, () =>
    exactly(reconstructedOr(parts, partProducts(times, first, first, second, second), () => evenSquares(speed, speedTime))));
  const minSpeed = port.apart('minSpeed', known?.minSpeed, () => reconstructedOrOnward(parts, lesser(first, second)));
  const maxSpeed = port.apart('maxSpeed', known?.maxSpeed, () => reconstructedOrOnward(parts, greater(first, second)));
  const length = port.column(known?.length, exactly(reconstructedOr(parts, partLengths(times, first, second), () => perSecond(speed))));
  const direction = port.column(known?.direction, onward(1));
  const advance = port.column(known?.advance, exactly(product(length, direction)));
  const travelled = port.apart('travelled', known?.travelled, () => onward(0, shifted(advance)));
  const travelSpeed = port.apart('travelSpeed', known?.travelSpeed, () => exactly(quotient(speed, speedTime)));
  return { index, from, on, gap, length, gapLength, travelled, advance, speedTime, speed, speedSquared, minSpeed, maxSpeed, travelSpeed, flags };
}
