import { readLines, listedLines, type LogOutline, type LogSource, type RefusedLine } from './csv-log.js';
import type { LogHeader } from './log-columns.js';

/** Reads a log to its end and returns what has to be known before any of it is stored. Never throws because of the log's content. */
export function outlineLog(log: LogSource): LogOutline {
  let header: LogHeader | null = null;
  let items = 0;
  let refusedLines = 0;
  let forward = true;
  let from = Infinity;
  let to = -Infinity;
  const refused: RefusedLine[] = [];
  const newest = new Map<number, number>();
  const lines = readLines(log, {
    header: (read) => {
      header = read;
    },
    refused: (line) => {
      refusedLines += 1;
      if (refused.length < listedLines) refused.push(line);
    },
    item: ({ item: { arc, time } }) => {
      items += 1;
      const at = time ?? 0;
      if (at < (newest.get(arc) ?? -Infinity)) forward = false;
      newest.set(arc, at);
      from = Math.min(from, at);
      to = Math.max(to, at);
    },
  });
  let count = 0;
  let step = lines.next();
  for (; step.done !== true; step = lines.next()) count += 1;
  const { value: ended } = step;
  const columns = columnsOf(header);
  if ('failure' in ended) {
    return { failure: ended.failure, columns, relativeTime: false, arcs: [], forward, items: 0, span: null, lines: 0, refusedLines: 0, refused: [] };
  }
  return {
    failure: null, columns, relativeTime: ended.relativeTime, arcs: [...newest.keys()].sort((a, b) => a - b),
    forward, items, span: items === 0 ? null : { from, to }, lines: count, refusedLines, refused,
  };
}

function columnsOf(header: LogHeader | null): LogOutline['columns'] {
  return header === null ? { used: [], ignored: [] } : { used: header.used, ignored: header.ignored };
}
