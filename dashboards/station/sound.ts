import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Alarm } from '../../shared/api-types/alarm.js';

/** Whether tones can be heard now. Browsers stay silent until somebody has pressed something, and may fall silent again. */
export const soundIsOn = signal(false);

let context: AudioContext | null = null;

/** To be called by a press. */
export async function allowSound(): Promise<void> {
  if (context === null) {
    const own = new AudioContext();
    own.addEventListener('statechange', () => { soundIsOn.value = own.state === 'running'; });
    context = own;
  }
  await context.resume();
  soundIsOn.value = context.state === 'running';
}

export async function muteSound(): Promise<void> {
  soundIsOn.value = false;
  await context?.suspend();
}

export interface Tone {
  /** Hz. */
  readonly pitch: number;
  readonly pulses: number;
  /** s from the beginning of one group of pulses to that of the next. */
  readonly every: number;
}

/** s of one pulse, and from one to the next. */
const pulse = { length: 0.18, spacing: 0.32 };
const loudness = 0.5;

/** Plays one group of pulses. */
export function playTone({ pitch, pulses }: Tone): void {
  if (context?.state !== 'running') return;
  for (let at = 0; at < pulses; at += 1) {
    const from = context.currentTime + at * pulse.spacing;
    const gain = context.createGain();
    const oscillator = context.createOscillator();
    // Rises and falls within 20 ms, so that it does not click.
    gain.gain.setValueAtTime(0, from);
    gain.gain.linearRampToValueAtTime(loudness, from + 0.02);
    gain.gain.setValueAtTime(loudness, from + pulse.length - 0.02);
    gain.gain.linearRampToValueAtTime(0, from + pulse.length);
    oscillator.type = 'triangle';
    oscillator.frequency.value = pitch;
    oscillator.connect(gain).connect(context.destination);
    oscillator.start(from);
    oscillator.stop(from + pulse.length);
    oscillator.addEventListener('ended', () => { gain.disconnect(); });
  }
}

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
    const timer = setInterval(() => { playTone(tone); }, tone.every * 1000);
    return () => { clearInterval(timer); };
  }, [on, priority]);
}
