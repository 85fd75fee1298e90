import type { Answer } from './route.js';

export type Cell = string | number | boolean | null | undefined;

/** Characters with which a spreadsheet takes a text for a formula; a quote before them makes it text (OWASP, CSV injection). Numbers keep their sign. */
const formula = /^[=+\-@\t\r]/;

/** A table as CSV (RFC 4180: CRLF, fields with commas, quotes or line ends in quotes, inner quotes doubled). An unknown value is an empty cell. */
function csvText(header: readonly string[], rows: Iterable<readonly Cell[]>): string {
  const lines = [header.map(cellText).join(',')];
  for (const row of rows) lines.push(row.map(cellText).join(','));
  return `${lines.join('\r\n')}\r\n`;
}

function cellText(cell: Cell): string {
  if (cell === null || cell === undefined) return '';
  if (typeof cell !== 'string') return String(cell);
  const text = formula.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** CSV to be saved under a name: other signs than letters, digits, `.`, `_` and `-` become `-`. */
export function csvAnswer(name: string, header: readonly string[], rows: Iterable<readonly Cell[]>): Answer {
  const file = `${name.replaceAll(/[^A-Za-z0-9._-]+/g, '-')}.csv`;
  return { status: 200, type: 'text/csv; charset=utf-8; header=present', text: csvText(header, rows), headers: { 'content-disposition': `attachment; filename="${file}"` } };
}

/** Writes times, ms since 1970, as RFC 3339 with the offset that the zone has then: 2026-11-25T07:00:00.100+01:00. */
export function timesIn(zone: string): (time: number) => string {
  const format = new Intl.DateTimeFormat('en-US', { timeZone: zone, timeZoneName: 'longOffset' });
  // Computed once for each quarter of an hour: an offset changes no more often, and computing it is slow.
  const known = new Map<number, number>();
  const offsetAt = (time: number): number => {
    const quarter = Math.floor(time / 900_000);
    let minutes = known.get(quarter);
    if (minutes === undefined) known.set(quarter, (minutes = offsetOf(format.formatToParts(time).find(({ type }) => type === 'timeZoneName')?.value ?? '')));
    return minutes;
  };
  return (time) => {
    const minutes = offsetAt(time);
    const local = new Date(Math.round(time) + minutes * 60_000).toISOString().slice(0, -1);
    const part = (value: number): string => String(value).padStart(2, '0');
    return `${local}${minutes < 0 ? '-' : '+'}${part(Math.floor(Math.abs(minutes) / 60))}:${part(Math.abs(minutes) % 60)}`;
  };
}

/** Minutes of `GMT-03:30`, `GMT` itself is 0. */
function offsetOf(text: string): number {
  const found = /GMT([+-])(\d\d):(\d\d)/.exec(text);
  return found === null ? 0 : (found[1] === '-' ? -1 : 1) * (Number(found[2]) * 60 + Number(found[3]));
}
