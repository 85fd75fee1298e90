import { quantities, requiredNames, sentNames, type SentName } from '../../shared/weld/quantities.js';
import { recordOf } from '../../shared/weld/rows/record-of.js';

/** The columns that a log may have. */
export const logColumns = ['time', ...sentNames, 'arc'] as const;
export type LogColumn = (typeof logColumns)[number];

export interface LogHeader {
  /** Place of each column in a line, -1 if the log has no such column. */
  readonly places: Readonly<Record<LogColumn, number>>;
  readonly width: number;
  readonly used: readonly LogColumn[];
}

/** The unit of each column, and other ways to write it: a header may name it in brackets behind the column. */
const units: Readonly<Record<LogColumn, readonly string[]>> = { time: ['s', 'sec', 'UTC'], ...recordOf(sentNames, unitsOf), arc: [] };

function unitsOf(name: SentName): readonly string[] {
  const { unit, sent } = quantities[name];
  return [unit, ...('alsoWritten' in sent ? sent.alsoWritten : [])];
}

const required: readonly LogColumn[] = ['time', ...requiredNames];

/** Reads the header of a log, in any order and case; returns the reason if the log cannot be read with it. */
export function readLogHeader(fields: readonly string[]): LogHeader | string {
  const names = fields.map((field) => field.trim());
  const places = recordOf<LogColumn, number>(logColumns, () => -1);
  for (const [place, name] of names.entries()) {
    const { column, unit } = readName(name);
    // A log may have columns that are not known here.
    if (column === undefined) continue;
    if (unit !== null && !takesUnit(column, unit)) return `header ${JSON.stringify(name.slice(0, 80))}: expected ${column} in ${units[column][0] ?? 'no unit'}`;
    if (places[column] !== -1) return `header: the column ${column} occurs twice; each may occur once`;
    places[column] = place;
  }
  const missing = required.filter((column) => places[column] === -1);
  if (missing.length > 0) {
    const got = JSON.stringify(names.join(', ').slice(0, 200));
    return `header ${got}: has no ${missing.join(', ')}; expected a line that names the columns ${logColumns.join(', ')}, of which ${required.join(', ')} are required, between commas or semicolons`;
  }
  return { places, width: names.length, used: logColumns.filter((column) => places[column] !== -1) };
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
