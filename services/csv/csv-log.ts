import { createHash } from 'node:crypto';
import type { Item } from '../../shared/weld/item.js';
import { csvRecords } from './csv-records.js';
import { delimiterOf, readLogHeader } from './log-columns.js';
import type { LogColumn, LogHeader } from './log-columns.js';
import { readLogLine } from './log-line.js';
import { createLogTimes } from './log-time.js';
import { numberMessages } from './number-messages.js';
import { createLinePacker } from './pack-lines.js';

/** A line that was left out: its number in the file from 1, and why, with the column, what it got and what it takes. */
export interface RefusedLine {
  readonly line: number;
  readonly reason: string;
}

export interface ParsedLog {
  /** Why nothing of the log can be read (no usable header, too large), or null. */
  readonly failure: string | null;
  /** Groups of items that travel in one message, in order. */
  readonly messages: readonly (readonly Item[])[];
  /** The same items in one list. */
  readonly items: readonly Item[];
  readonly refusedLines: readonly RefusedLine[];
  readonly columns: { readonly used: readonly LogColumn[]; readonly ignored: readonly string[] };
  /** The times are relative and no start was given: they count from 1970-01-01. */
  readonly relativeTime: boolean;
}

export interface LogOptions {
  /** Time of the log's zero, ms since 1970, where its times are relative. */
  readonly start: number | null;
}

/** Largest log taken, bytes of UTF-8. */
export const largestLog = 256 * 1024 * 1024;

/**
 * Reads the CSV log of one run: a header line, then one line per reading and arc. Columns `time` (s from an arbitrary
 * zero, Unix s or ms, or RFC 3339 text), `current` A, `voltage` V and, where there are, `travelSpeed` mm/min,
 * `wireFeedSpeed` m/min, `travel` mm, `plateTemperature` °C, `arc`. A bad line is refused alone. The boot is made from the
 * text, so that the same log read twice gives the same items under the same names. Never throws.
 */
export function parseLog(text: string, options: LogOptions): ParsedLog {
  const failed = (failure: string): ParsedLog => ({
    failure, messages: [], items: [], refusedLines: [], columns: { used: [], ignored: [] }, relativeTime: false,
  });
  const size = Buffer.byteLength(text);
  if (size > largestLog) return failed(`the log has ${size} bytes, takes at most ${largestLog} (256 MiB)`);

  const delimiter = delimiterOf(firstLine(text));
  const times = createLogTimes(options.start);
  const packer = createLinePacker();
  const refusedLines: RefusedLine[] = [];
  let header: LogHeader | null = null;
  const mayBreak = (fields: readonly string[]): boolean => header === null || breaksOutsideColumns(fields, header);
  for (const record of csvRecords(text, delimiter, mayBreak)) {
    if (header === null) {
      const read = 'problem' in record ? record.problem : readLogHeader(record.fields);
      if (typeof read === 'string') return failed(read);
      header = read;
      continue;
    }
    const line = 'problem' in record ? record.problem : readLogLine(record.fields, header, times, delimiter);
    if (typeof line === 'string') {
      refusedLines.push({ line: record.line, reason: line });
      packer.refused();
    } else {
      packer.add(line);
    }
  }
  if (header === null) return failed(`the log is empty, takes a header line and one line per reading`);

  const messages = numberMessages(packer.finish(), bootOf(text));
  return {
    failure: null,
    messages,
    items: messages.flat(),
    refusedLines,
    columns: { used: header.used, ignored: header.ignored },
    relativeTime: options.start === null && times.kind() === 'relative',
  };
}

function bootOf(text: string): string {
  return `log-${createHash('sha256').update(text, 'utf8').digest('hex').slice(0, 32)}`;
}

function firstLine(text: string): string {
  return /[^\s\uFEFF][^\r\n]*/.exec(text)?.[0] ?? '';
}

/** Only in a column that nobody reads here can a line break mean anything. */
function breaksOutsideColumns(fields: readonly string[], header: LogHeader): boolean {
  return fields.length === header.width && header.used.every((column) => fields[header.places[column]]?.includes('\n') === false);
}
