import { plantTime, timeInPlant } from './plant-time.js';
import type { ServiceFacts } from '../../shared/api-types/service.js';

/** Days, shifts and weeks of the plant as moments, whatever zone the reader's browser is in. */

export const periods = ['today', 'yesterday', 'shift', 'lastShift', 'week', 'lastWeek'] as const;
export type Period = (typeof periods)[number];

export type Shifts = ServiceFacts['shifts'];

/** Those that there are only where the plant has shifts. */
export const shiftPeriods: readonly Period[] = ['shift', 'lastShift'];

/** When a period begins (inclusive) and ends (exclusive), ms since 1970. Weeks begin on Monday (ISO 8601). A plant without shifts has one a day. */
export function periodSpan(period: Period, now: number, zone: string, shifts: Shifts): readonly [number, number] {
  const { year, month, day } = plantTime(now, zone);
  const weekday = (new Date(Date.UTC(year, month - 1, day)).getUTCDay() + 6) % 7;
  const dayAt = (later: number, clock = '00:00'): number => momentOf(year, month, day + later, clock, zone);
  switch (period) {
    case 'today': return [dayAt(0), dayAt(1)];
    case 'yesterday': return [dayAt(-1), dayAt(0)];
    case 'week': return [dayAt(-weekday), dayAt(7 - weekday)];
    case 'lastWeek': return [dayAt(-weekday - 7), dayAt(-weekday)];
    case 'shift':
    case 'lastShift': {
      const clocks = shifts.length === 0 ? ['00:00'] : shifts.map(({ begins }) => begins);
      const begins = [-2, -1, 0, 1].flatMap((later) => clocks.map((clock) => dayAt(later, clock)));
      const running = begins.findLastIndex((begin) => begin <= now);
      const index = period === 'shift' ? running : running - 1;
      return [begins[index] ?? now, begins[index + 1] ?? now];
    }
  }
}

/** The shift at that time; null if the plant has no shifts. */
export function shiftAt(now: number, zone: string, shifts: Shifts): Shifts[number] | null {
  if (shifts.length === 0) return null;
  const { hour, minute } = plantTime(periodSpan('shift', now, zone, shifts)[0], zone);
  const begins = `${String(hour).padStart(2, '0')}:${String(minute).padStart(2, '0')}`;
  // If clocks were set forward over its beginning, the shift began later than it says.
  return shifts.findLast((own) => own.begins <= begins) ?? shifts.at(-1) ?? null;
}

/** The beginning of a day of the calendar, `2026-11-25`, or of a day `later` days after it, ms since 1970; null if there is no such day. */
export function startOfDay(text: string, later: number, zone: string): number | null {
  const [year, month, day] = text.split('-').map(Number);
  if (year === undefined || month === undefined || day === undefined || year < 1970 || year > 2105) return null;
  // A date that rolls over, such as 30 February, does not exist.
  if (new Date(Date.UTC(year, month - 1, day)).getUTCMonth() !== month - 1) return null;
  return momentOf(year, month, day + later, '00:00', zone);
}

/** `day` may lie beyond the end of its month, or before its beginning. */
function momentOf(year: number, month: number, day: number, clock: string, zone: string): number {
  const [hour = 0, minute = 0] = clock.split(':').map(Number);
  const date = new Date(Date.UTC(year, month - 1, day));
  return timeInPlant({ year: date.getUTCFullYear(), month: date.getUTCMonth() + 1, day: date.getUTCDate(), hour, minute, second: 0 }, zone);
}
