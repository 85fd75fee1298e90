import type { ByteSink, ByteSource } from './byte-sink.js';
import { passColumn, readColumn } from './column-reader.js';
import { writeColumn } from './column-writer.js';
import { exactly, onward, type Expectation } from './expectation.js';
import { copied } from './column-room.js';

/**
 * Passes one column at a time: a known column is written, an unknown one is read. One function can then model the rows in both directions, and the
 * order of the columns cannot differ between them.
 */
export interface ColumnPort {
  readonly count: number;
  column(known: Float64Array | undefined, expectation: Expectation): Float64Array;
  /** A column that no other column is predicted from. If the reader does not want it, it is skipped and returned empty. */
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

/** Reads the wanted columns (all if none are named) and the columns that they are predicted from. */
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
 * The values of each row's parts. The first of two parts is the reading that ended the row before, so the second values go through first; the first
 * values are then known, except where a reading begins together with the row.
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
