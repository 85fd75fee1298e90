import { csvRecords } from './csv-records.js';
import { delimiterOf, readLogHeader, type LogHeader } from './log-columns.js';
import { readLogLine } from './log-line.js';
import { createLogTimes } from './log-time.js';
import { createLinePacker, type PackedItem } from './pack-lines.js';
import { textLines, type LineEnding, type TextLine } from './text-lines.js';

/** A refused line: its number in the file from 1, and the reason with the column, the value and what is accepted. */
export interface RefusedLine {
  readonly line: number;
  readonly reason: string;
}

/** A log that can be read from its beginning as often as needed, and is never in memory as a whole. */
export interface LogSource {
  /** Its text piece by piece, without a byte order mark. */
  pieces(): Iterable<string>;
  /** LF if the log has one anywhere, else CR. */
  readonly ending: LineEnding;
  /** Time of the log's zero, ms since 1970, if its times are relative. */
  readonly start: number | null;
}

/** What is known about a log once it has been read to its end. */
export interface LogOutline {
  /** Why nothing of the log can be read (no usable header, too long), or null. */
  readonly failure: string | null;
  /** Whether the times are relative: they count from the given start, or from 1970-01-01. */
  readonly relativeTime: boolean;
  /** The arcs that have items, ascending. */
  readonly arcs: readonly number[];
  /** Whether the times of every arc only go forward. */
  readonly forward: boolean;
  readonly items: number;
  /** First and last time of an item, µs since 1970; null without items. */
  readonly span: { readonly from: number; readonly to: number } | null;
  /** Lines behind the header that are not blank, the refused ones among them. */
  readonly lines: number;
  readonly refusedLines: number;
  /** The first of them. */
  readonly refused: readonly RefusedLine[];
}

/** The largest accepted log, bytes of UTF-8, and the most lines, blank ones included. */
export const largestLog = 256 * 1024 * 1024;
const mostLines = 10_000_000;

/** The most refused lines that are listed one by one. */
export const listedLines = 1_000;

/** Callbacks for the content of a log, line by line and item by item. Each is optional. */
interface LogReader {
  refused?(line: RefusedLine): void;
  item?(item: PackedItem): void;
}

/**
 * Reads the CSV log of one run: a header line, then one line per reading and arc. Columns `time` (s from an arbitrary
 * zero, Unix s or ms, or RFC 3339 text), `current` A, `voltage` V and, where there are, `travelSpeed` mm/min,
 * `wireFeedSpeed` m/min, `travel` mm, `plateTemperature` °C, `arc`. A bad line is refused alone. The generator yields after
 * each record, and ends with the reason why nothing can be read, or whether its times are relative.
 */
export function* readLines(log: LogSource, reader: LogReader): Generator<void, { readonly failure: string } | { readonly relativeTime: boolean }> {
  const times = createLogTimes(log.start);
  const packer = createLinePacker((item) => reader.item?.(item));
  let header: LogHeader | null = null;
  let delimiter: ',' | ';' = ',';
  const layout = (firstLine: string): { delimiter: string; mayBreak: (fields: readonly string[]) => boolean } => {
    delimiter = delimiterOf(firstLine);
    return { delimiter, mayBreak: (fields) => header === null || breaksOutsideColumns(fields, header) };
  };
  const lines = boundedLines(textLines(log.pieces(), log.ending));
  for (const record of csvRecords(lines, layout)) {
    if (header === null) {
      const read = 'problem' in record ? record.problem : readLogHeader(record.fields);
      if (typeof read === 'string') return { failure: read };
      header = read;
      continue;
    }
    const line = 'problem' in record ? record.problem : readLogLine(record.fields, header, times, delimiter);
    if (typeof line === 'string') {
      reader.refused?.({ line: record.line, reason: line });
      packer.refused();
    } else {
      packer.add(line);
    }
    yield;
  }
  if (lines.tooMany) return { failure: `the log has too many lines: ${mostLines} at most, blank ones too` };
  if (header === null) return { failure: 'the log is empty; expected a header line and one line per reading' };
  packer.finish();
  return { relativeTime: times.kind() === 'relative' };
}

/** As many lines as are accepted; `tooMany` says afterwards whether there are more: a flood of blank lines is not read to its end. */
function boundedLines(lines: Iterable<TextLine>): Iterable<TextLine> & { readonly tooMany: boolean } {
  const bounded = {
    tooMany: false,
    *[Symbol.iterator](): Generator<TextLine, void> {
      let count = 0;
      for (const line of lines) {
        count += 1;
        bounded.tooMany = count > mostLines;
        if (bounded.tooMany) return;
        yield line;
      }
    },
  };
  return bounded;
}

/** A line break can only mean something in a column that nobody reads here. */
function breaksOutsideColumns(fields: readonly string[], header: LogHeader): boolean {
  return fields.length === header.width && header.used.every((column) => fields[header.places[column]]?.includes('\n') === false);
}
