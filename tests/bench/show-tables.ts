import type { BenchTable } from './bench-part.js';

function tableText(header: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  return [line(header), line(header.map((_, column) => (column === 0 ? '---' : '---:'))), ...rows.map(line)].join('\n');
}

/** One part as Markdown, below a heading of its own. */
export function partText(name: string, stamp: string, tables: readonly BenchTable[]): string {
  const parts = tables.flatMap(({ title, header, rows, notes }) => [`**${title}**`, tableText(header, rows), ...notes]);
  return [`## ${name}`, stamp, ...parts].join('\n\n');
}

export function factsText(facts: readonly (readonly [string, string])[]): string {
  return tableText(['machine', ''], facts);
}

/** The sections of a results file by their headings, so that a part can be measured anew alone. */
export function sectionsOf(text: string): Map<string, string> {
  const found = text.split(/^(?=## )/m).filter((section) => section.startsWith('## '));
  return new Map(found.map((section) => [/^## (.*)$/m.exec(section)?.[1] ?? '', section.trimEnd()]));
}
