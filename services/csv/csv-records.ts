import { parse } from 'csv-parse/sync';

/** One record of a CSV text with the line on which it begins (from 1), or the line that cannot be read as one. */
export type CsvRecord =
  | { readonly line: number; readonly fields: readonly string[] }
  | { readonly line: number; readonly problem: string };

/** A quoted field may run over so many lines; a quote that is not closed within them is an error of its own line. */
const longestRecord = 20;

/**
 * The records of a CSV text (RFC 4180; a byte order mark, LF, CR LF or CR at line ends), blank lines left out. A line with
 * bad quotes is a problem of that line alone. `mayBreak` says whether a record over several lines makes sense: two stray
 * quotes some lines apart must not swallow the good lines between them.
 */
export function* csvRecords(text: string, delimiter: string, mayBreak: (fields: readonly string[]) => boolean): Generator<CsvRecord, void> {
  const ending = text.includes('\n') ? '\n' : '\r';
  let from = text.startsWith('\uFEFF') ? 1 : 0;
  for (let line = 1; from < text.length; line += 1) {
    const end = lineEnd(text, from, ending);
    const content = withoutReturn(text.slice(from, end));
    from = end + 1;
    if (content.trim() === '') continue;
    const fields = plainFields(content, delimiter) ?? strictFields(content, delimiter);
    if (fields !== null) {
      yield { line, fields };
      continue;
    }
    const longer = multiLineRecord(text, content, from, { ending, delimiter, mayBreak });
    if (longer === null) {
      yield { line, problem: `quotes ${JSON.stringify(content.slice(0, 80))}: takes fields in "…" with every inner quote doubled` };
      continue;
    }
    yield { line, fields: longer.fields };
    from = longer.next;
    line += longer.lines - 1;
  }
}

function lineEnd(text: string, from: number, ending: string): number {
  const end = text.indexOf(ending, from);
  return end === -1 ? text.length : end;
}

function withoutReturn(line: string): string {
  return line.endsWith('\r') ? line.slice(0, -1) : line;
}

/** Fields of a line whose quotes, if any, just enclose whole fields: nearly every line of a log, at a tenth of a parser's cost. */
function plainFields(line: string, delimiter: string): string[] | null {
  const fields = line.split(delimiter);
  if (!line.includes('"')) return fields;
  for (const [place, field] of fields.entries()) {
    if (!field.includes('"')) continue;
    if (field.length < 2 || field.indexOf('"', 1) !== field.length - 1 || !field.startsWith('"')) return null;
    fields[place] = field.slice(1, -1);
  }
  return fields;
}

function strictFields(record: string, delimiter: string): string[] | null {
  try {
    const records = parse(record, { delimiter, relax_column_count: true, record_delimiter: ['\r\n', '\n', '\r'] });
    return records.length === 1 ? (records[0] ?? null) : null;
  } catch {
    return null;
  }
}

interface Layout {
  readonly ending: string;
  readonly delimiter: string;
  readonly mayBreak: (fields: readonly string[]) => boolean;
}

function multiLineRecord(text: string, begun: string, from: number, layout: Layout): { fields: string[]; lines: number; next: number } | null {
  let record = begun;
  let next = from;
  for (let lines = 2; lines <= longestRecord && next < text.length; lines += 1) {
    const end = lineEnd(text, next, layout.ending);
    record += `\n${withoutReturn(text.slice(next, end))}`;
    next = end + 1;
    // An odd number of quotes leaves a field open.
    if ((record.split('"').length - 1) % 2 === 1) continue;
    const fields = strictFields(record, layout.delimiter);
    return fields !== null && layout.mayBreak(fields) ? { fields, lines, next } : null;
  }
  return null;
}
