import { readLines, listedLines, type LogOutline, type LogSource, type RefusedLine } from './csv-log.js';

/** Reads a log to its end and returns what has to be known before any of it is stored. Never throws because of the log's content. */
export function outlineLog(log: LogSource): LogOutline {
  let items = 0;
  let refusedLines = 0;
  let forward = true;
  let from = Infinity;
  let to = -Infinity;
  const refused: RefusedLine[] = [];
  const newest = new Map<number, number>();
  const lines = readLines(log, {
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
  if ('failure' in ended) return { failure: ended.failure, relativeTime: false, arcs: [], forward, items: 0, span: null, lines: 0, refusedLines: 0, refused: [] };
  return {
    failure: null, relativeTime: ended.relativeTime, arcs: [...newest.keys()].sort((a, b) => a - b),
    forward, items, span: items === 0 ? null : { from, to }, lines: count, refusedLines, refused,
  };
}
