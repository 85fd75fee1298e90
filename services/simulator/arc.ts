import { powerFactorOf, waveAt, type Alternation } from './alternation.js';
import { meltedFeedSpeed, meltingCurrent } from './melting.js';
import { averagedDeviation, createNoise } from './noise.js';
import type { Random } from './random.js';

/** How one arc is set. Lengths mm, current A, voltage V, droop V/A. */
export interface ArcSetting {
  readonly arc: number;
  readonly wireDiameter: number;
  readonly extension: number;
  readonly current: number;
  readonly voltage: number;
  readonly droop: number;
  /** Null for direct current; `current` and `voltage` are RMS values where it alternates. */
  readonly alternation: Alternation | null;
}

/** How far the arc is from its setting at the moment. */
export interface Deviation {
  /** V by which the source is set too high. */
  readonly rise: number;
  /** mm by which the electrode extension is too long. */
  readonly extension: number;
}

/** What an arc truly does over a step, whatever its sensors show: without noise that is faster than the step, and without rounding. */
export interface ArcTruth {
  readonly arc: number;
  /** Electrode extension, mm, and wire feed speed, m/min. */
  readonly extension: number;
  readonly wireFeedSpeed: number;
  /** RMS values where the arc alternates, A and V. */
  readonly current: number;
  readonly voltage: number;
  /** True mean power, kW. */
  readonly power: number;
}

/** The sensor values of one arc over one message; one sample if readings are sent. */
export interface ArcSamples {
  readonly current: readonly number[];
  readonly voltage: readonly number[];
  /** m/min. */
  readonly wireFeedSpeed: number;
  /** Mean electrical power over the samples, kW. */
  readonly power: number;
  /** Null while the arc is out. */
  readonly truth: ArcTruth | null;
}

export interface SimulatedArc {
  /** The next `seconds` in `count` samples; a single sample is a mean over its time, as from a slow sensor. */
  next(on: boolean, deviation: Deviation, seconds: number, count: number): ArcSamples;
}

// Sizes of the fluctuations: common practice, no source. Chosen for a calm arc (a few per cent over 1 ms samples).
const extensionNoise = { deviation: 0.8, memory: 3 };
const feedNoise = { deviation: 0.003, memory: 1 };
const slowVoltageNoise = { deviation: 0.2, memory: 0.8 };
const fastVoltageNoise = { deviation: 0.6, memory: 0.004 };
const feedSensorDeviation = 0.002;
/** s in which an arc that was lit reaches its set values. */
const lightingTime = 0.12;

/**
 * An arc on a constant wire feed. The feed is what melts at the set current and extension; from then on the current is
 * whatever melts the wire at the feed and extension of the moment, the voltage follows along the source's droop, and fast
 * changes of the arc's length move voltage and current against each other along that droop.
 */
export function createArc(setting: ArcSetting, random: Random): SimulatedArc {
  const setFeed = meltedFeedSpeed(setting.current, setting);
  const { alternation } = setting;
  const powerFactor = alternation === null ? 1 : powerFactorOf(alternation);
  const extension = createNoise(extensionNoise.memory, random);
  const feed = createNoise(feedNoise.memory, random);
  const slowVoltage = createNoise(slowVoltageNoise.memory, random);
  const fastVoltage = createNoise(fastVoltageNoise.memory, random);
  let litFor = 0;

  return {
    next: (on, deviation, seconds, count) => {
      if (!on) {
        litFor = 0;
        const dark = new Array<number>(count).fill(0);
        return { current: dark, voltage: dark, wireFeedSpeed: 0, power: 0, truth: null };
      }
      const feedNow = setFeed * (1 + feedNoise.deviation * feed.next(seconds));
      const extensionNow = setting.extension + deviation.extension + extensionNoise.deviation * extension.next(seconds);
      const melting = meltingCurrent(feedNow, { wireDiameter: setting.wireDiameter, extension: extensionNow });
      const slow = slowVoltageNoise.deviation * slowVoltage.next(seconds);
      const steady = sourceVoltage(setting, melting, deviation.rise) + slow;

      const interval = seconds / count;
      const averaged = averagedDeviation(fastVoltageNoise.memory, seconds);
      const current: number[] = [];
      const voltage: number[] = [];
      let power = 0;
      const mean = { current: 0, voltage: 0, power: 0 };
      for (let sample = 0; sample < count; sample += 1) {
        const fast = fastVoltageNoise.deviation * (count === 1 ? averaged * random.normal() : fastVoltage.next(interval));
        const missing = Math.exp(-litFor / lightingTime);
        const lit = { current: 1 - 0.65 * missing, voltage: 1 - 0.3 * missing };
        const [currentWave, voltageWave] = wavesAt(alternation, litFor, count);
        // When the arc's own voltage moves, the current changes along the source's droop.
        const amperes = Math.round(currentWave * (melting - fast / setting.droop) * lit.current * 10) / 10;
        const volts = Math.round(voltageWave * (steady + fast) * lit.voltage * 100) / 100;
        current.push(amperes);
        voltage.push(volts);
        power += (amperes * volts * (count === 1 ? powerFactor : 1)) / 1000 / count;
        mean.current += (melting * lit.current) / count;
        mean.voltage += (steady * lit.voltage) / count;
        // Fast changes move current and voltage against each other, which takes their covariance off the power.
        mean.power += ((melting * steady - fastVoltageNoise.deviation ** 2 / setting.droop) * lit.current * lit.voltage * powerFactor) / 1000 / count;
        litFor += interval;
      }
      const shownFeed = feedNow * (1 + feedSensorDeviation * random.normal());
      const truth = { arc: setting.arc, extension: extensionNow, wireFeedSpeed: feedNow, ...mean };
      return { current, voltage, wireFeedSpeed: Math.round(shownFeed * 1000) / 1000, power, truth };
    },
  };
}

/** Current and voltage at a time over their RMS values. A single reading of an alternating arc is its RMS value, as from a meter that knows no sign. */
function wavesAt(alternation: Alternation | null, time: number, count: number): readonly [current: number, voltage: number] {
  if (alternation === null || count === 1) return [1, 1];
  return [waveAt(alternation, time, alternation.lag), waveAt(alternation, time, 0)];
}

/**
 * Voltage at the arc, V, when it draws `current` A and the set voltage is `rise` V too high. The source has a constant voltage with a slight droop;
 * 0.02 V/A, two volts in a hundred amperes, is common practice, no source.
 */
function sourceVoltage(source: ArcSetting, current: number, rise: number): number {
  return source.voltage + rise - source.droop * (current - source.current);
}
