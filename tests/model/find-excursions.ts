import type { Judged, PlainExcursion, PlainWindow } from './window-types.js';

const rowTime = 100_000;

export interface Delays {
  /** s */
  readonly onDelay: number;
  readonly offDelay: number;
  /** Share of the window's width; 'none' for conditions that end at their limit. */
  readonly deadband: number | 'none';
}

/** An excursion with the judged values of which it consists. */
export interface FoundExcursion extends Omit<PlainExcursion, 'arc' | 'quantity'> {
  readonly first: Judged;
  /** The value with which it came back inside: for good if the excursion ended so, otherwise waiting for its off-delay. */
  readonly back: Judged | null;
  /** The last value of its burning so far. */
  readonly last: Judged;
}

/** A run's first row may begin before the run does. */
export const beginOf = (value: Judged | undefined): number => (value === undefined ? Number.NaN : value.row.start + value.row.group.run.from);

/** The ends of a window: `beyond` is positive outside, and at most `-inset` inside the deadband. */
function endsOf(window: PlainWindow, deadband: Delays['deadband']): { limit: number; inset: number; sign: 1 | -1 }[] {
  const { min, max } = window;
  const inset = (limit: number): number => (deadband === 'none' ? 0 : min !== undefined && max !== undefined ? deadband * (max - min) : 0.01 * Math.abs(limit));
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

/** The excursions in the judged values of one burning; the last one ends at the latest where the values do. */
function inBurning(values: readonly Judged[], window: PlainWindow, delays: Delays, burnsOn: boolean): FoundExcursion[] {
  const found: FoundExcursion[] = [];
  const last = values.at(-1);
  if (last === undefined) return [];
  for (const { limit, inset, sign } of endsOf(window, delays.deadband)) {
    const outside = (value: number): boolean => sign * (value - limit) > 0;
    const returned = (value: number): boolean => sign * (value - (limit - sign * inset)) <= 0;
    let i = 0;
    while (i < values.length) {
      const first = values[i];
      const next = whileHolds(values, i, outside);
      if (first === undefined || next === i || lasts(values, i, next) < delays.onDelay * 1_000_000) {
        i = Math.max(next, i + 1);
        continue;
      }
      let end = next;
      let back: Judged | null = null;
      while (end < values.length) {
        const after = whileHolds(values, end, returned);
        back = after > end ? (values[end] ?? null) : null;
        if (back !== null && lasts(values, end, after) >= delays.offDelay * 1_000_000) break;
        end = Math.max(after, end + 1);
      }
      const inside = values.slice(i, end).map(({ value }) => value);
      found.push({
        limit,
        worst: sign === 1 ? Math.max(...inside) : Math.min(...inside),
        from: beginOf(first),
        to: values[end]?.row.start ?? (burnsOn ? null : last.row.start + rowTime),
        first,
        back,
        last,
      });
      i = end;
    }
  }
  return found;
}

/**
 * The excursions of one quantity; `burnOf` gives the burning to which a judged value belongs, `burning` the one that still burns at the end of the
 * data (-1: none).
 */
export function findExcursions(
  values: readonly Judged[],
  window: PlainWindow,
  delays: Delays,
  burnOf: (value: Judged) => number,
  burning: number,
): FoundExcursion[] {
  const burns = [...new Set(values.map(burnOf))];
  return burns.flatMap((burn) => inBurning(values.filter((value) => burnOf(value) === burn), window, delays, burn === burning));
}
