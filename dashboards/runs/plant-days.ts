import { plantTime, timeInPlant } from '../shared/plant-time.js';

/** Days, shifts and weeks of the plant as moments, whatever zone the reader's browser is in. */

export const periods = ['today', 'yesterday', 'shift', 'lastShift', 'week', 'lastWeek'] as const;
export type Period = (typeof periods)[number];

/** Hours at which shifts begin; common practice, no source. */
export const shiftHours = [6, 14, 22] as const;

/** From when until before when a period lasts, ms since 1970. Weeks begin on Monday (ISO 8601). */
export function periodSpan(period: Period, now: number, zone: string): readonly [number, number] {
  const { year, month, day } = plantTime(now, zone);
  const weekday = (new Date(Date.UTC(year, month - 1, day)).getUTCDay() + 6) % 7;
  const dayAt = (later: number, hour = 0): number => momentOf(year, month, day + later, hour, zone);
  switch (period) {
    case 'today':
      return [dayAt(0), dayAt(1)];
    case 'yesterday':
      return [dayAt(-1), dayAt(0)];
    case 'week':
      return [dayAt(-weekday), dayAt(7 - weekday)];
    case 'lastWeek':
      return [dayAt(-weekday - 7), dayAt(-weekday)];
    case 'shift':
    case 'lastShift': {
      const begins = [-2, -1, 0, 1].flatMap((later) => shiftHours.map((hour) => dayAt(later, hour)));
      const running = begins.findLastIndex((begin) => begin <= now);
      const index = period === 'shift' ? running : running - 1;
      return [begins[index] ?? now, begins[index + 1] ?? now];
    }
  }
}

/** Begin of a day of the calendar, `2026-11-25`, or of one so many days later, ms since 1970; null where there is no such day. */
export function startOfDay(text: string, later: number, zone: string): number | null {
  const [year, month, day] = text.split('-').map(Number);
  if (year === undefined || month === undefined || day === undefined || year < 1970 || year > 2105) return null;
  // A date that rolls over, as 30 February does, is none.
  if (new Date(Date.UTC(year, month - 1, day)).getUTCMonth() !== month - 1) return null;
  return momentOf(year, month, day + later, 0, zone);
}

/** A day may lie beyond the end of its month, or before its begin. */
function momentOf(year: number, month: number, day: number, hour: number, zone: string): number {
  const date = new Date(Date.UTC(year, month - 1, day));
  return timeInPlant({ year: date.getUTCFullYear(), month: date.getUTCMonth() + 1, day: date.getUTCDate(), hour, minute: 0, second: 0 }, zone);
}
