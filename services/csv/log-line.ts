import { mostArcs, quantityLimits } from '../../shared/weld/decode/item-limits.js';
import type { QuantityLimit } from '../../shared/weld/decode/item-limits.js';
import type { LogColumn, LogHeader } from './log-columns.js';
import type { LogTimes } from './log-time.js';

/** One usable line of a log. Time in whole microseconds since 1970, other units as outside; null where the line has no value. */
export interface LogLine {
  readonly time: number;
  readonly arc: number;
  readonly current: number;
  readonly voltage: number;
  readonly travelSpeed: number | null;
  readonly wireFeedSpeed: number | null;
  readonly travel: number | null;
  readonly plateTemperature: number | null;
}

const withPoint = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;
const withComma = /^[+-]?(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][+-]?\d+)?$/;

/**
 * Reads one line, or gives the reason why it is refused: the column, what it got and what it takes. A decimal comma is
 * taken where semicolons separate the fields. An empty field is a missing value where the column is required (`arc` too,
 * where the log has it), and "not measured on this line" in the others.
 */
export function readLogLine(fields: readonly string[], header: LogHeader, times: LogTimes, delimiter: ',' | ';'): LogLine | string {
  if (fields.length !== header.width) return `line: got ${fields.length} fields, takes ${header.width} as in the header`;
  const field = (column: LogColumn): string => fields[header.places[column]] ?? '';
  const number = (text: string): number => readNumber(text, delimiter === ';');

  const timeText = field('time');
  const time = times.read(timeText, number(timeText));
  if (typeof time === 'string') return time;
  const arcText = header.places.arc === -1 ? '1' : field('arc');
  const arc = number(arcText);
  if (!(Number.isInteger(arc) && arc >= 1 && arc <= mostArcs)) return refused('arc', arcText, `a whole number from 1 to ${mostArcs}`);

  const measured = (limit: QuantityLimit): number | string => {
    const text = field(limit.name);
    const value = number(text);
    return value >= limit.low && value <= limit.high ? value : refused(limit.name, text, limit.taken);
  };
  const optional = (limit: QuantityLimit): number | null | string => (field(limit.name).trim() === '' ? null : measured(limit));
  const current = measured(quantityLimits.current);
  if (typeof current === 'string') return current;
  const voltage = measured(quantityLimits.voltage);
  if (typeof voltage === 'string') return voltage;
  const travelSpeed = optional(quantityLimits.travelSpeed);
  if (typeof travelSpeed === 'string') return travelSpeed;
  const wireFeedSpeed = optional(quantityLimits.wireFeedSpeed);
  if (typeof wireFeedSpeed === 'string') return wireFeedSpeed;
  const travel = optional(quantityLimits.travel);
  if (typeof travel === 'string') return travel;
  const plateTemperature = optional(quantityLimits.plateTemperature);
  if (typeof plateTemperature === 'string') return plateTemperature;
  return { time, arc, current, voltage, travelSpeed, wireFeedSpeed, travel, plateTemperature };
}

function refused(column: LogColumn, text: string, takes: string): string {
  return `${column} ${JSON.stringify(text.slice(0, 64))}: takes ${takes}`;
}

/** A decimal number without grouping; NaN for anything else. Adding zero turns -0 into 0, which JSON cannot tell apart. */
function readNumber(text: string, comma: boolean): number {
  const trimmed = text.trim();
  if (!(comma ? withComma : withPoint).test(trimmed)) return Number.NaN;
  return Number(comma ? trimmed.replace(',', '.') : trimmed) + 0;
}
