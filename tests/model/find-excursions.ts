import type { Judged, PlainExcursion, PlainWindow } from './window-types.js';

const rowTime = 100_000;

export interface Delays {
  /** s */
  readonly onDelay: number;
  readonly offDelay: number;
  /** Share of the window's width. */
  readonly deadband: number;
}

/** A run's first row may begin before the run does. */
const beginOf = (value: Judged | undefined): number => (value === undefined ? Number.NaN : value.row.start + value.row.group.run.from);

/** Each end of a window by itself: `beyond` is positive outside, and at most `-inset` inside the deadband. */
function endsOf(window: PlainWindow, deadband: number): { limit: number; inset: number; sign: 1 | -1 }[] {
  const { min, max } = window;
  const inset = (limit: number): number => (min !== undefined && max !== undefined ? deadband * (max - min) : 0.01 * Math.abs(limit));
  return [
    ...(min === undefined ? [] : [{ limit: min, inset: inset(min), sign: -1 as const }]),
    ...(max === undefined ? [] : [{ limit: max, inset: inset(max), sign: 1 as const }]),
  ];
}

/** Index after the last of the values from `first` on that all fulfil `holds`. */
function whileHolds(values: readonly Judged[], first: number, holds: (value: number) => boolean): number {
  let next = first;
  while (next < values.length && holds(values[next]?.value ?? Number.NaN)) next += 1;
  return next;
}

const lasts = (values: readonly Judged[], first: number, next: number): number =>
  (values[next - 1]?.row.start ?? 0) + rowTime - beginOf(values[first]);

/** Excursions of the judged values of one burning; the last one ends at the latest where they do. */
function inBurning(values: readonly Judged[], window: PlainWindow, delays: Delays, burnsOn: boolean): Omit<PlainExcursion, 'arc' | 'quantity'>[] {
  const found: Omit<PlainExcursion, 'arc' | 'quantity'>[] = [];
  for (const { limit, inset, sign } of endsOf(window, delays.deadband)) {
    const outside = (value: number): boolean => sign * (value - limit) > 0;
    const returned = (value: number): boolean => sign * (value - (limit - sign * inset)) <= 0;
    let i = 0;
    while (i < values.length) {
      const next = whileHolds(values, i, outside);
      if (next === i || lasts(values, i, next) < delays.onDelay * 1_000_000) {
        i = Math.max(next, i + 1);
        continue;
      }
      let end = next;
      let back = next;
      while (end < values.length) {
        back = whileHolds(values, end, returned);
        if (back > end && lasts(values, end, back) >= delays.offDelay * 1_000_000) break;
        end = Math.max(back, end + 1);
      }
      const inside = values.slice(i, end).map(({ value }) => value);
      const last = values.at(-1);
      found.push({
        limit,
        worst: sign === 1 ? Math.max(...inside) : Math.min(...inside),
        from: beginOf(values[i]),
        to: values[end]?.row.start ?? (last === undefined || burnsOn ? null : last.row.start + rowTime),
      });
      i = end;
    }
  }
  return found;
}

/**
 * The excursions of one quantity; `burnOf` tells which burning a judged value belongs to, `burning` the one that the end
 * of the data has not seen out (-1: none).
 */
export function findExcursions(
  values: readonly Judged[],
  window: PlainWindow,
  delays: Delays,
  burnOf: (value: Judged) => number,
  burning: number,
): Omit<PlainExcursion, 'arc' | 'quantity'>[] {
  const burns = [...new Set(values.map(burnOf))];
  return burns.flatMap((burn) => inBurning(values.filter((value) => burnOf(value) === burn), window, delays, burn === burning));
}
