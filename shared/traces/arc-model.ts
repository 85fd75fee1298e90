import { arcRowFlags, rowLength } from '../weld/rows/row.js';
import { differences, evenSquares, greater, less, lesser, orElse, product, quotient, shifted, whereKnown, withoutSign } from './column-arithmetic.js';
import { heldParts, type ColumnPort } from './column-port.js';
import { always, exactly, onward, reconstructedOr, reconstructedOrOnward, type Expectation } from './expectation.js';
import { at, withLater, type ArcColumns } from './row-columns.js';
import { partLengths, partProducts, partSums, partTimes, type Parts } from './row-parts.js';
import { copied, newColumn } from './column-room.js';

/** The parts that an arc's rows are made from, as far as they could be reconstructed; see row-parts.ts. */
export interface ArcParts extends Parts, Readonly<Record<`${'first' | 'second'}${'Current' | 'Voltage' | 'Speed' | 'Feed'}`, Float64Array>> {
  /** 1 where the carriage goes forward over the row, −1 where it goes back. */
  readonly direction: Float64Array;
}

/**
 * Predicts every column of an arc's rows from the columns before it. The order is the format: a column may use only columns that went through above
 * it. `later` is the number of later columns in the format.
 */
export function arcModel(port: ColumnPort, later: number, known?: ArcColumns & ArcParts): ArcColumns {
  const { count } = port;
  const index = port.column(known?.index, onward(0, newColumn(count).fill(1)));
  const from = port.column(known?.from, always(0));
  const flags = port.apart('flags', known?.flags, () => onward(arcRowFlags.slow | arcRowFlags.burning));
  const gap = port.apart('gap', known?.gap, () => always(0));

  const parts = port.column(known?.parts, onward(2));
  const span = port.column(known?.span, exactly(less(rowLength, from)));
  const border = port.column(known?.border, onward(0));
  const times = partTimes({ parts, span, border });

  const covered = port.column(known?.covered, reconstructedOrOnward(parts, copied(times.whole)));
  // The arc-on time follows the covered time where the arc is on, and stays 0 where it is off.
  const on = port.column(known?.on, onward(at(covered, 0), differences(covered)));
  const time = orElse(on, covered);
  const samples = port.apart('samples', known?.samples, () => reconstructedOrOnward(parts, less(0, less(1, parts))));

  const { first: firstI, second: secondI } = heldParts(port, parts, known?.firstCurrent, known?.secondCurrent);
  const { first: firstU, second: secondU } = heldParts(port, parts, known?.firstVoltage, known?.secondVoltage);
  const current = port.column(known?.current, reconstructedOrOnward(parts, partSums(times, firstI, secondI)));
  const voltage = port.column(known?.voltage, reconstructedOrOnward(parts, partSums(times, firstU, secondU)));
  const minCurrent = port.column(known?.minCurrent, reconstructedOrOnward(parts, lesser(firstI, secondI)));
  const maxCurrent = port.column(known?.maxCurrent, reconstructedOrOnward(parts, greater(firstI, secondI)));
  const minVoltage = port.column(known?.minVoltage, reconstructedOrOnward(parts, lesser(firstU, secondU)));
  const maxVoltage = port.column(known?.maxVoltage, reconstructedOrOnward(parts, greater(firstU, secondU)));
  const power = partProducts(times, firstU, firstI, secondU, secondI);
  const even = (): Float64Array => quotient(product(current, voltage), time);
  const energy = port.column(known?.energy, exactly(reconstructedOr(parts, withoutSign(power, minCurrent, maxCurrent, minVoltage, maxVoltage), even)));
  const squares = (sums: Float64Array, first: Float64Array, second: Float64Array): Expectation =>
    // The mean square is the square of the mean plus the variance, and the variance is close to that of the row before.
    reconstructedOrOnward(parts, partProducts(times, first, first, second, second), () => differences(evenSquares(sums, time)));
  const currentSquared = port.apart('currentSquared', known?.currentSquared, () => squares(current, firstI, secondI));
  const voltageSquared = port.apart('voltageSquared', known?.voltageSquared, () => squares(voltage, firstU, secondU));

  const { first: firstV, second: secondV } = heldParts(port, parts, known?.firstSpeed, known?.secondSpeed);
  const length = port.column(known?.length, reconstructedOrOnward(parts, partLengths(times, firstV, secondV)));
  const direction = port.column(known?.direction, onward(1));
  const travelled = port.column(known?.travelled, onward(0, shifted(product(length, direction))));
  const { first: firstF, second: secondF } = heldParts(port, parts, known?.firstFeed, known?.secondFeed);
  const feedTime = port.column(known?.feedTime, reconstructedOrOnward(parts, whereKnown(times.whole, firstF)));
  const minFeed = port.apart('minFeed', known?.minFeed, () => reconstructedOrOnward(parts, lesser(firstF, secondF)));
  const maxFeed = port.apart('maxFeed', known?.maxFeed, () => reconstructedOrOnward(parts, greater(firstF, secondF)));
  const wireFeedSpeed = port.column(known?.wireFeedSpeed, reconstructedOrOnward(parts, quotient(partSums(times, firstF, secondF), times.whole)));
  const evenFeed = (): Float64Array => product(product(wireFeedSpeed, wireFeedSpeed), feedTime);
  const feedSquared = port.apart('feedSquared', known?.feedSquared, () => exactly(whereKnown(reconstructedOr(parts, partProducts(times, firstF, firstF, secondF, secondF), evenFeed), wireFeedSpeed)));
  const plateTemperature = port.apart('plateTemperature', known?.plateTemperature, () => onward(Number.NaN));
  const extinctions = port.apart('extinctions', known?.extinctions, () => onward(Number.NaN));
  const shortCircuits = port.apart('shortCircuits', known?.shortCircuits, () => onward(Number.NaN));
  const first = {
    index, from, covered, on, gap, samples, current, voltage, energy, currentSquared, voltageSquared, minCurrent, maxCurrent,
    minVoltage, maxVoltage, length, travelled, wireFeedSpeed, feedTime, feedSquared, minFeed, maxFeed,
    plateTemperature, extinctions, shortCircuits, flags,
  };
  let passed = 0;
  return withLater(first, (name, before) => {
    passed += 1;
    if (passed > later) return newColumn(count).fill(before);
    // Most arcs are on direct current with the electrode positive.
    return port.apart(name, known?.[name], () => (name === 'positiveTime' ? exactly(time) : onward(before)));
  });
}
