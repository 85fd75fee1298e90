import { describe, expect, it } from 'vitest';
import type { CaseFile, Wave } from './case-format.js';
import { modelRuns, programRuns } from './case-runs.js';
import { atPath } from './check-figures.js';

/** Samples are `interval` ms apart, in blocks of 100 ms. */
interface Waveform {
  readonly interval: number;
  readonly current: Wave;
  readonly voltage: Wave;
}

/** Mean power in W by three ways of averaging, from the figures of a run. */
interface Averages {
  /** Energy over arc time: power was multiplied sample by sample. */
  readonly power: number;
  readonly means: number;
  readonly rms: number;
}

/** 0.5 s of the waveform, all of it arc time, in whole periods. */
function caseOf({ interval, current, voltage }: Waveform): CaseFile {
  return {
    title: 'a waveform',
    source: 'averaging.test.ts',
    stretches: [{ from: 0, to: 0.4, every: 100, block: Math.round(100 / interval), interval, travelSpeed: 900, arcs: [{ arc: 1, current, voltage }] }],
  };
}

function averagesOf(run: unknown): Averages {
  const figure = (path: string): number => {
    const value = atPath(run, path);
    if (typeof value !== 'number') throw new Error(`${path} is ${String(value)}`);
    return value;
  };
  return {
    power: (figure('arcs[0].energy') * 1000) / figure('arcs[0].arcTime'),
    means: figure('arcs[0].current.mean') * figure('arcs[0].voltage.mean'),
    rms: figure('arcs[0].current.rms') * figure('arcs[0].voltage.rms'),
  };
}

const sine = (lag: number, interval = 0.5): Waveform => ({ interval, current: { sine: { rms: 600, hertz: 50, lag } }, voltage: { sine: { rms: 30, hertz: 50 } } });
const cycle = (count: number, value: (sample: number) => number): Wave => ({ cycle: Array.from({ length: count }, (_, sample) => value(sample)) });

/** The same sine from sensors that cannot show a sign, sampled `count` times in a period of 50 Hz. */
const rectified = (lag: number, count: number): Waveform => {
  const wave = (rms: number, shift: number): Wave => cycle(count, (sample) => Math.abs(Math.SQRT2 * rms * Math.sin((2 * Math.PI * sample) / count - (shift * Math.PI) / 180)));
  return { interval: 20 / count, current: wave(600, lag), voltage: wave(30, 0) };
};

// All expected values are exact mathematics of the waveform: products of rectangles, and U·I·cos φ for sines.
describe.each([
  ['the program', programRuns],
  ['the plain model', modelRuns],
])('mean power by three ways of averaging, according to %s', (_, runsOf) => {
  const averages = (waveform: Waveform): Averages => averagesOf(runsOf(caseOf(waveform))[0]?.figures);

  it('a pulse for a quarter of the time: means give 19.937 % too little, RMS values 22.157 % too much', () => {
    const pulse = (high: number, low: number): Wave => ({ pulse: { period: 20, width: 5, high, low } });
    const found = averages({ interval: 1, current: pulse(400, 50), voltage: pulse(32, 20) });
    // 0.25·12,800 + 0.75·1,000; 137.5 A · 23 V; sqrt(0.25·400² + 0.75·50²)·sqrt(0.25·32² + 0.75·20²)
    expect(found.power).toBeCloseTo(3950, 8);
    expect(found.means).toBeCloseTo(3162.5, 8);
    expect(found.rms).toBeCloseTo(4825.1943, 4);
    expect(100 * (found.means / found.power - 1)).toBeCloseTo(-19.937, 3);
    expect(100 * (found.rms / found.power - 1)).toBeCloseTo(22.157, 3);
  });

  it.each([
    [0, 18000],
    [20, 16914.4672],
    [30, 15588.4573],
  ])('a sine of 30 V and 600 A RMS that lags by %i° takes %f W; the product of the RMS values stays 18,000 W', (lag, power) => {
    for (const interval of [0.5, 1]) {
      const found = averages(sine(lag, interval));
      expect(found.power).toBeCloseTo(power, 4);
      expect(found.rms).toBeCloseTo(18000, 6);
      // What a run calls the mean of an alternating current is that of its RMS values.
      expect(found.means).toBeCloseTo(18000, 6);
    }
  });

  it('a square wave of ±30 V and ±600 A in phase takes 18,000 W, although its signed means are 0', () => {
    const found = averages({ interval: 1, current: cycle(20, (sample) => (sample < 10 ? 600 : -600)), voltage: cycle(20, (sample) => (sample < 10 ? 30 : -30)) });
    expect(found.power).toBeCloseTo(18000, 8);
    expect(found.rms).toBeCloseTo(18000, 8);
    expect(found.means).toBeCloseTo(18000, 8);
  });

  it('rectified means of a sine in phase give 14,590.2504 W, the samples themselves 18,000 W', () => {
    const count = 1000;
    const found = averages(rectified(0, count));
    expect(found.power).toBeCloseTo(18000, 6);
    expect(found.rms).toBeCloseTo(18000, 6);
    // The mean of |sin| is 2/π; from N samples in a period, one of them at zero, it is (2/N)·cot(π/N).
    const sampled = 36_000 * (2 / count / Math.tan(Math.PI / count)) ** 2;
    expect(found.means).toBeCloseTo(sampled, 6);
    expect(Math.abs(found.means - 14590.2504)).toBeLessThan(0.1);
  });

  it.each([20, 30])('rectified samples of a sine that lags by %i° make too much power of it', (lag) => {
    const count = 1000;
    const angle = (lag * Math.PI) / 180;
    // The mean of |sin x · sin(x − φ)| is half of (1 − 2φ/π)·cos φ + (2/π)·sin φ, of sin x · sin(x − φ) half of cos φ.
    const expected = 18_000 * ((1 - (2 * angle) / Math.PI) * Math.cos(angle) + (2 / Math.PI) * Math.sin(angle));
    const found = averages(rectified(lag, count));
    // The corners at the zeros fall between samples: less than 1e-5 of the power.
    expect(Math.abs(found.power / expected - 1)).toBeLessThan(1e-5);
    expect(found.power).toBeGreaterThan(18_000 * Math.cos(angle));
  });
});
