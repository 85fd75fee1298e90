import { mostArcs, quantityLimits, type QuantityLimit } from '../../shared/weld/decode/item-limits.js';
import type { OptionalName, RequiredName, SentName } from '../../shared/weld/quantities.js';
import type { LogColumn, LogHeader } from './log-columns.js';
import type { LogTimes } from './log-time.js';

/** One usable line of a log. Time in whole microseconds since 1970, other units as external; null if the line has no value. */
export interface LogLine extends LineValues {
  readonly time: number;
  readonly arc: number;
}

type LineValues = Readonly<Record<RequiredName, number> & Record<OptionalName, number | null>>;

const withPoint = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;
const withComma = /^[+-]?(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][+-]?\d+)?$/;

/**
 * Reads one line, or returns the reason why it is refused: the column, the value and what is accepted. A decimal comma is
 * accepted if semicolons separate the fields. An empty field is a missing value if the column is required (`arc` too,
 * if the log has it), and "not measured on this line" otherwise.
 */
export function readLogLine(fields: readonly string[], header: LogHeader, times: LogTimes, delimiter: ',' | ';'): LogLine | string {
  if (fields.length !== header.width) return `line: got ${fields.length} fields, expected ${header.width} as in the header`;
  const comma = delimiter === ';';
  const timeText = fields[header.places.time] ?? '';
  const time = times.read(timeText, readNumber(timeText, comma));
  if (typeof time === 'string') return time;
  const arcText = header.places.arc === -1 ? '1' : (fields[header.places.arc] ?? '');
  const arc = readNumber(arcText, comma);
  if (!(Number.isInteger(arc) && arc >= 1 && arc <= mostArcs)) return refused('arc', arcText, `a whole number from 1 to ${mostArcs}`);
  const { places } = header;
  const values: Partial<Record<SentName, number | null>> = {};
  for (const limit of quantityLimits) {
    const value = (limit.required ? readRequired : readOptional)(limit, fields[places[limit.name]], comma);
    if (typeof value === 'string') return value;
    values[limit.name] = value;
  }
  return { time, arc, ...(values as LineValues) };
}

function readRequired(limit: QuantityLimit, text: string | undefined, comma: boolean): number | string {
  const value = readNumber(text ?? '', comma);
  return value >= limit.low && value <= limit.high ? value : refused(limit.name, text ?? '', limit.taken);
}

/** Null if the log has no such column, or the line has nothing in it. */
function readOptional(limit: QuantityLimit, text: string | undefined, comma: boolean): number | null | string {
  return text === undefined || text.trim() === '' ? null : readRequired(limit, text, comma);
}

function refused(column: LogColumn, text: string, takes: string): string {
  return `${column} ${JSON.stringify(text.slice(0, 64))}: expected ${takes}`;
}

/** A decimal number without grouping; NaN for anything else. Adding zero turns -0 into 0, which JSON cannot tell apart. */
function readNumber(text: string, comma: boolean): number {
  const trimmed = text.trim();
  if (!(comma ? withComma : withPoint).test(trimmed)) return Number.NaN;
  return Number(comma ? trimmed.replace(',', '.') : trimmed) + 0;
}
