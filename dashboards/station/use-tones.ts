import { useEffect } from 'preact/hooks';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { playTone, soundIsOn, type Tone } from './sound.js';

/**
 * A tone for each priority. Tones differ in the number of pulses as well as in pitch, which lies in the band from 500 to 2,500 Hz that
 * ISO 7731 asks of auditory signals; the rest is common practice, no source.
 */
export const tones: Readonly<Record<Alarm['priority'], Tone>> = {
  high: { pitch: 1_000, pulses: 3, every: 2 },
  medium: { pitch: 750, pulses: 2, every: 5 },
  low: { pitch: 550, pulses: 1, every: 15 },
};

/** The highest priority among active, unacknowledged alarms; null if there are none. */
export function tonePriority(alarms: readonly Pick<Alarm, 'state' | 'priority'>[]): Alarm['priority'] | null {
  const open = alarms.filter(({ state }) => state === 'unacknowledged');
  return (['high', 'medium', 'low'] as const).find((priority) => open.some((own) => own.priority === priority)) ?? null;
}

/** Sounds while there are unacknowledged alarms, if a press has allowed it. */
export function useTones(alarms: readonly Alarm[]): void {
  const priority = tonePriority(alarms);
  const on = soundIsOn.value;
  useEffect(() => {
    if (!on || priority === null) return undefined;
    const tone = tones[priority];
    playTone(tone);
    const timer = setInterval(() => {
      playTone(tone);
    }, tone.every * 1000);
    return () => {
      clearInterval(timer);
    };
  }, [on, priority]);
}
