import type { Alarm } from '../../shared/api-types/alarm.js';
import { arrivedAt } from '../shared/standing-alarms.js';

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
  /** The most in any 10 minutes of the last 24 h. */
  readonly worstTen: number;
}

export type Burden = 'bearable' | 'tooMany' | 'flood';

/** How many alarms were raised in the 10 minutes and the 24 h before that server time, ms: all carriages together first, then the busiest. Suppressed alarms reach nobody. */
export function alarmRates(alarms: Iterable<Alarm>, at: number): AlarmRate[] {
  const rates = new Map<string, number[]>();
  const all: number[] = [];
  for (const alarm of alarms) {
    const { site, carriage, state } = alarm;
    const age = at - Date.parse(arrivedAt(alarm));
    if (state === 'suppressed' || age >= oneDay) continue;
    const key = site === null ? '' : `${site}/${carriage ?? ''}`;
    const own = rates.get(key) ?? [];
    rates.set(key, own);
    own.push(age);
    all.push(age);
  }
  const each = [...rates].map(([key, ages]) => rateOf(key, ages)).sort((a, b) => b.lastTen - a.lastTen || b.lastDay - a.lastDay || ((a.key ?? '') < (b.key ?? '') ? -1 : 1));
  return [...(each.length > 1 ? [rateOf(null, all)] : []), ...each];
}

function rateOf(key: string | null, ages: readonly number[]): AlarmRate {
  const inOrder = [...ages].sort((a, b) => a - b);
  let from = 0;
  let worstTen = 0;
  inOrder.forEach((age, to) => {
    while (age - (inOrder[from] ?? age) >= tenMinutes) from += 1;
    worstTen = Math.max(worstTen, to + 1 - from);
  });
  return { key, lastTen: ages.filter((age) => age < tenMinutes).length, lastDay: ages.length, worstTen };
}

/** How heavy the worst 10 minutes of the last 24 h and their average are for one person. */
export function burdenOf({ worstTen, lastDay }: Pick<AlarmRate, 'worstTen' | 'lastDay'>): Burden {
  if (worstTen > flood) return 'flood';
  return worstTen > bearable || (lastDay * tenMinutes) / oneDay > bearable ? 'tooMany' : 'bearable';
}
