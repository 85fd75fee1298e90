import { quantityLimits } from '../../shared/weld/decode/item-limits.js';

/** The columns that a log may have. */
export const logColumns = ['time', ...quantityNames(), 'arc'] as const;
export type LogColumn = (typeof logColumns)[number];

export interface LogHeader {
  /** Place of each column in a line, -1 where the log has no such column. */
  readonly places: Readonly<Record<LogColumn, number>>;
  readonly width: number;
  readonly used: readonly LogColumn[];
  /** Columns that nobody here knows, as the header names them. */
  readonly ignored: readonly string[];
}

/** The unit of each column, and other ways to write it: a header may name it in brackets behind the column. */
const units: Readonly<Record<LogColumn, readonly string[]>> = {
  time: ['s', 'sec', 'UTC'], current: ['A'], voltage: ['V'], travelSpeed: ['mm/min'], wireFeedSpeed: ['m/min'], travel: ['mm'],
  plateTemperature: ['°C', 'C', 'degC'], arc: [],
};

const required: readonly LogColumn[] = ['time', 'current', 'voltage'];

/** Reads the header of a log, in any order and case; gives the reason where the log cannot be read with it. */
export function readLogHeader(fields: readonly string[]): LogHeader | string {
  const names = fields.map((field) => field.trim());
  const places: Record<LogColumn, number> = {
    time: -1, current: -1, voltage: -1, travelSpeed: -1, wireFeedSpeed: -1, travel: -1, plateTemperature: -1, arc: -1,
  };
  const ignored: string[] = [];
  for (const [place, name] of names.entries()) {
    const { column, unit } = readName(name);
    if (column === undefined) ignored.push(name);
    else if (unit !== null && !takesUnit(column, unit)) return `header ${JSON.stringify(name.slice(0, 80))}: expected ${column} in ${units[column][0] ?? 'no unit'}`;
    else if (places[column] !== -1) return `header: the column ${column} occurs twice; each may occur once`;
    else places[column] = place;
  }
  const missing = required.filter((column) => places[column] === -1);
  if (missing.length > 0) {
    const got = JSON.stringify(names.join(', ').slice(0, 200));
    return `header ${got}: has no ${missing.join(', ')}; expected a line that names the columns ${logColumns.join(', ')}, of which ${required.join(', ')} are required, between commas or semicolons`;
  }
  return { places, width: names.length, used: logColumns.filter((column) => places[column] !== -1), ignored };
}

/** `Travel speed (mm/min)` names the column travelSpeed, with its unit. */
function readName(name: string): { readonly column: LogColumn | undefined; readonly unit: string | null } {
  const [, words = '', round, square] = /^([^()[\]]*)(?:\(([^()]*)\)|\[([^[\]]*)\])?$/.exec(name) ?? [];
  const plain = words.toLowerCase().replaceAll(/[\s_-]/g, '');
  return { column: logColumns.find((known) => known.toLowerCase() === plain), unit: (round ?? square)?.trim() ?? null };
}

function takesUnit(column: LogColumn, unit: string): boolean {
  return units[column].some((own) => own.toLowerCase() === unit.toLowerCase().replaceAll(/\s/g, ''));
}

/** What separates the fields, by the header: a semicolon where there is one outside quotes, else a comma. */
export function delimiterOf(headerLine: string): ',' | ';' {
  return headerLine.replaceAll(/"[^"]*"/g, '').includes(';') ? ';' : ',';
}

function quantityNames(): readonly (keyof typeof quantityLimits)[] {
  return [
    quantityLimits.current, quantityLimits.voltage, quantityLimits.travelSpeed,
    quantityLimits.wireFeedSpeed, quantityLimits.travel, quantityLimits.plateTemperature,
  ].map((limit) => limit.name);
}
