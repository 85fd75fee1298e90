import type { ExpectedFigures } from './case-format.js';
import { atPath, differences, instant } from './check-figures.js';

const name = (entry: unknown, path: string): string => JSON.stringify(atPath(entry, path) ?? '');
const at = (entry: unknown, path: string): number => instant(atPath(entry, path))?.micros ?? 0;
const figure = (entry: unknown, path: string): number => Number(atPath(entry, path) ?? 0);

/** Sorts excursions by where they begin (`time` is `fromTime`) and alarms by when they were raised; at the same time, by quantity, arc and limit. */
export function inOrder(entries: readonly unknown[], time: 'fromTime' | 'raisedAt'): unknown[] {
  return [...entries].sort(
    (a, b) =>
      at(a, time) - at(b, time) ||
      name(a, 'quantity').localeCompare(name(b, 'quantity')) ||
      figure(a, 'arc') - figure(b, 'arc') ||
      figure(a, 'limit') - figure(b, 'limit'),
  );
}

/** The differences between a sorted list and the one that a case expects, a line each. */
export function listDifferences(what: string, entries: readonly unknown[], expected: readonly ExpectedFigures[], start: number): string[] {
  const listed = (entry: unknown): string => JSON.stringify(entry);
  if (entries.length !== expected.length) return [`expected ${expected.length} ${what}s, got ${entries.length}: ${entries.map(listed).join(', ')}`];
  return expected.flatMap((own, i) => differences(entries[i], own, start).map((line) => `${what} ${i}: ${line}`));
}
