import { csvRecords } from './csv-records.js';
import { delimiterOf, readLogHeader } from './log-columns.js';
import type { LogColumn, LogHeader } from './log-columns.js';
import { readLogLine } from './log-line.js';
import { createLogTimes } from './log-time.js';
import { createLinePacker } from './pack-lines.js';
import type { PackedItem } from './pack-lines.js';
import { textLines } from './text-lines.js';
import type { LineEnding, TextLine } from './text-lines.js';

/** A line that was left out: its number in the file from 1, and why, with the column, what it got and what it takes. */
export interface RefusedLine {
  readonly line: number;
  readonly reason: string;
}

/** A log that can be read from its beginning as often as need be, and never is in memory as a whole. */
export interface LogSource {
  /** Its text piece by piece, without a byte order mark. */
  pieces(): Iterable<string>;
  /** LF where the log has one anywhere, else CR. */
  readonly ending: LineEnding;
  /** Time of the log's zero, ms since 1970, where its times are relative. */
  readonly start: number | null;
}

/** What is known of a log once it has been read to its end. */
export interface LogOutline {
  /** Why nothing of the log can be read (no usable header, too long), or null. */
  readonly failure: string | null;
  readonly columns: { readonly used: readonly LogColumn[]; readonly ignored: readonly string[] };
  /** The times are relative: they count from the start that is given, or from 1970-01-01. */
  readonly relativeTime: boolean;
  /** The arcs that have items, ascending. */
  readonly arcs: readonly number[];
  /** The times of no arc run back. */
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

/** Largest log taken, bytes of UTF-8, and the most lines, blank ones too. */
export const largestLog = 256 * 1024 * 1024;
export const mostLines = 10_000_000;

/** Refused lines that are told one by one. */
export const toldLines = 1_000;

/** Told of what a log holds, line by line and item by item. Each may be left out. */
export interface LogReader {
  header?(header: LogHeader): void;
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
      reader.header?.(header);
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

/** As many lines as are taken; `tooMany` says afterwards whether there are more: nobody goes through a flood of blank ones. */
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

/** Only in a column that nobody reads here can a line break mean anything. */
function breaksOutsideColumns(fields: readonly string[], header: LogHeader): boolean {
  return fields.length === header.width && header.used.every((column) => fields[header.places[column]]?.includes('\n') === false);
}
