import type { Alarm } from '../../shared/api-types/alarm.js';

export const tenMinutes = 600_000;
export const oneDay = 86_400_000;

/** Alarms that one person can follow for long, and from above how many it is a flood, in 10 minutes: IEC 62682, as quoted second hand. */
export const bearable = 1;
export const flood = 10;

export interface AlarmRate {
  /** `site/carriage`, empty for the service itself, null for all together. */
  readonly key: string | null;
  readonly lastTen: number;
  readonly lastDay: number;
}

export type Burden = 'bearable' | 'tooMany' | 'flood';

/** How many alarms were raised in the 10 minutes and the 24 h before that server time, ms; all together first, then the busiest. Suppressed ones reach nobody. */
export function alarmRates(alarms: Iterable<Pick<Alarm, 'site' | 'carriage' | 'raisedAt' | 'state'>>, at: number): AlarmRate[] {
  const rates = new Map<string, { lastTen: number; lastDay: number }>();
  const all = { lastTen: 0, lastDay: 0 };
  for (const { site, carriage, raisedAt, state } of alarms) {
    const age = at - Date.parse(raisedAt);
    if (state === 'suppressed' || age >= oneDay) continue;
    const key = site === null ? '' : `${site}/${carriage ?? ''}`;
    const own = rates.get(key) ?? { lastTen: 0, lastDay: 0 };
    rates.set(key, own);
    for (const rate of [own, all]) {
      rate.lastDay += 1;
      if (age < tenMinutes) rate.lastTen += 1;
    }
  }
  const each = [...rates].map(([key, rate]) => ({ key, ...rate })).sort((a, b) => b.lastTen - a.lastTen || b.lastDay - a.lastDay || (a.key < b.key ? -1 : 1));
  return [...(each.length > 1 ? [{ key: null, ...all }] : []), ...each];
}

/** What the worse of the last 10 minutes and the average of the last 24 h means for one person. */
export function burdenOf({ lastTen, lastDay }: Pick<AlarmRate, 'lastTen' | 'lastDay'>): Burden {
  if (lastTen > flood) return 'flood';
  return lastTen > bearable || perTenMinutes(lastDay) > bearable ? 'tooMany' : 'bearable';
}

export function perTenMinutes(lastDay: number): number {
  return (lastDay * tenMinutes) / oneDay;
}
