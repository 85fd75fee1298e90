import { parse } from 'csv-parse/sync';
import { longestLine, type TextLine } from './text-lines.js';

/** One record of a CSV text with the line on which it begins (from 1), or the line that cannot be read as one. */
export type CsvRecord =
  | { readonly line: number; readonly fields: readonly string[] }
  | { readonly line: number; readonly problem: string };

/** A quoted field may run over this many lines; a quote that is not closed within them is an error of its own line. */
const longestRecord = 20;

export interface CsvLayout {
  readonly delimiter: string;
  /** Whether a record over several lines makes sense: two stray quotes some lines apart must not swallow the good lines between them. */
  readonly mayBreak: (fields: readonly string[]) => boolean;
}

/**
 * The records of CSV lines (RFC 4180; LF, CR LF or CR at line ends), blank lines left out. A line with bad quotes is a
 * problem of that line alone. `layout` is asked once the first line that is not blank is there.
 */
export function* csvRecords(lines: Iterable<TextLine>, layout: (firstLine: string) => CsvLayout): Generator<CsvRecord, void> {
  const source = lookingAhead(lines);
  let known: CsvLayout | null = null;
  for (let line = 1, next = source.next(); next !== null; line += 1, next = source.next()) {
    const content = withoutReturn(next.text);
    if (content.trim() === '' && next.whole) continue;
    if (!next.whole) {
      yield { line, problem: `line ${JSON.stringify(content.slice(0, 80))}: longer than ${longestLine} characters` };
      continue;
    }
    known ??= layout(content);
    const fields = plainFields(content, known.delimiter) ?? strictFields(content, known.delimiter);
    if (fields !== null) {
      yield { line, fields };
      continue;
    }
    const longer = multiLineRecord(source, content, known);
    if (longer === null) {
      yield { line, problem: `quotes ${JSON.stringify(content.slice(0, 80))}: expected fields in "…" with every inner quote doubled` };
      continue;
    }
    yield { line, fields: longer.fields };
    line += longer.lines - 1;
  }
}

interface LinesAhead {
  next(): TextLine | null;
  /** Looks at the line that many places ahead, from 0, without consuming it. */
  peek(place: number): TextLine | null;
}

function lookingAhead(lines: Iterable<TextLine>): LinesAhead {
  const iterator = lines[Symbol.iterator]();
  const ahead: TextLine[] = [];
  const pull = (): TextLine | null => {
    const next = iterator.next();
    return next.done === true ? null : next.value;
  };
  return {
    next: () => ahead.shift() ?? pull(),
    peek: (place) => {
      while (ahead.length <= place) {
        const next = pull();
        if (next === null) return null;
        ahead.push(next);
      }
      return ahead[place] ?? null;
    },
  };
}

function withoutReturn(line: string): string {
  return line.endsWith('\r') ? line.slice(0, -1) : line;
}

/** The fields of a line whose quotes, if any, enclose whole fields: this is nearly every line of a log, at a tenth of a parser's cost. */
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

function multiLineRecord(source: LinesAhead, begun: string, { delimiter, mayBreak }: CsvLayout): { fields: string[]; lines: number } | null {
  let record = begun;
  for (let lines = 2; lines <= longestRecord; lines += 1) {
    const next = source.peek(lines - 2);
    if (next?.whole !== true) return null;
    record += `\n${withoutReturn(next.text)}`;
    // An odd number of quotes leaves a field open.
    if ((record.split('"').length - 1) % 2 === 1) continue;
    const fields = strictFields(record, delimiter);
    if (fields === null || !mayBreak(fields)) return null;
    for (let used = 1; used < lines; used += 1) source.next();
    return { fields, lines };
  }
  return null;
}
