import type { Wave } from './case-format.js';

/** The value `seconds` after the case's start; `index` counts samples and `since` seconds from the stretch's start. */
export function waveValue(wave: Wave, index: number, seconds: number, since: number): number {
  if (typeof wave === 'number') return wave;
  if ('cycle' in wave) return wave.cycle[index % wave.cycle.length] ?? Number.NaN;
  if ('pulse' in wave) return index % wave.pulse.period < wave.pulse.width ? wave.pulse.high : wave.pulse.low;
  if ('sine' in wave) {
    const lag = ((wave.sine.lag ?? 0) / 180) * Math.PI;
    return Math.SQRT2 * wave.sine.rms * Math.sin(2 * Math.PI * wave.sine.hertz * seconds - lag);
  }
  const { from, perSecond, jitter } = wave.ramp;
  return from + perSecond * since + (jitter?.[index % jitter.length] ?? 0);
}
