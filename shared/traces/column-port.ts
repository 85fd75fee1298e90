import type { ByteSink, ByteSource } from './byte-sink.js';
import { passColumn, readColumn } from './column-reader.js';
import { writeColumn } from './column-writer.js';
import { exactly, onward, type Expectation } from './expectation.js';
import { copied } from './column-room.js';

/**
 * One column goes through: written where it is known, read where it is not. A model of the rows is then one function for both
 * directions, and the order of columns cannot differ between them.
 */
export interface ColumnPort {
  readonly count: number;
  column(known: Float64Array | undefined, expectation: Expectation): Float64Array;
  /** A column that no other one is foretold from. Where its reader does not want it it is passed over, and empty. */
  apart(name: string, known: Float64Array | undefined, expectation: () => Expectation): Float64Array;
}

const notWanted = new Float64Array(0);

export function writingPort(sink: ByteSink, count: number): ColumnPort {
  const column: ColumnPort['column'] = (known, expectation) => {
    if (known?.length !== count) throw new Error(`a column to be packed has ${known?.length ?? 'no'} values instead of ${count}`);
    writeColumn(sink, known, expectation);
    return known;
  };
  return { count, column, apart: (_name, known, expectation) => column(known, expectation()) };
}

/** Reads the columns that are wanted, all where none are named, and those that they are foretold from. */
export function readingPort(source: ByteSource, count: number, wanted?: readonly string[]): ColumnPort {
  return {
    count,
    column: (_known, expectation) => readColumn(source, count, expectation),
    apart(name, _known, expectation) {
      if (wanted === undefined || wanted.includes(name)) return readColumn(source, count, expectation());
      passColumn(source, count);
      return notWanted;
    },
  };
}

/**
 * The values that the parts of a row have. The first part of two is the reading that ended the row before, so the second values go
 * through first; the first ones are then known but where a reading begins together with the row.
 */
export function heldParts(
  port: ColumnPort,
  parts: Float64Array,
  first: Float64Array | undefined,
  second: Float64Array | undefined,
): { readonly first: Float64Array; readonly second: Float64Array } {
  const ends = port.column(second, onward(0));
  const begins = copied(ends);
  for (let row = 1; row < ends.length; row += 1) if (parts[row] === 2) begins[row] = ends[row - 1] ?? 0;
  return { first: port.column(first, exactly(begins)), second: ends };
}
