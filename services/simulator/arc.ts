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
  /** A square wave of 50 Hz: the sign changes faster than the samples lie apart. */
  readonly alternating: boolean;
}

/** The sensor values of one arc over one message; one sample if readings are sent. */
export interface ArcSamples {
  readonly current: readonly number[];
  readonly voltage: readonly number[];
  /** m/min. */
  readonly wireFeedSpeed: number;
  /** Mean electrical power over the samples, kW. */
  readonly power: number;
}

export interface SimulatedArc {
  /** The next `seconds` in `count` samples; a single sample is a mean over its time, as from a slow sensor. */
  next(on: boolean, voltageRise: number, seconds: number, count: number): ArcSamples;
}

// Sizes of the fluctuations: common practice, no source. Chosen for a calm arc (a few per cent over 1 ms samples).
const extensionNoise = { deviation: 0.8, memory: 3 };
const feedNoise = { deviation: 0.003, memory: 1 };
const slowVoltageNoise = { deviation: 0.2, memory: 0.8 };
const fastVoltageNoise = { deviation: 0.6, memory: 0.004 };
const feedSensorDeviation = 0.002;
/** s in which an arc that was lit reaches its set values. */
const lightingTime = 0.12;
const halfPeriod = 0.01;

/**
 * An arc on a constant wire feed. The feed is what melts at the set current and extension; from then on the current is
 * whatever melts the wire at the feed and extension of the moment, the voltage follows along the source's droop, and fast
 * changes of the arc's length move voltage and current against each other along that droop.
 */
export function createArc(setting: ArcSetting, random: Random): SimulatedArc {
  const setFeed = meltedFeedSpeed(setting.current, setting);
  const extension = createNoise(extensionNoise.memory, random);
  const feed = createNoise(feedNoise.memory, random);
  const slowVoltage = createNoise(slowVoltageNoise.memory, random);
  const fastVoltage = createNoise(fastVoltageNoise.memory, random);
  let litFor = 0;

  return {
    next: (on, voltageRise, seconds, count) => {
      if (!on) {
        litFor = 0;
        const dark = new Array<number>(count).fill(0);
        return { current: dark, voltage: dark, wireFeedSpeed: 0, power: 0 };
      }
      const feedNow = setFeed * (1 + feedNoise.deviation * feed.next(seconds));
      const extensionNow = setting.extension + extensionNoise.deviation * extension.next(seconds);
      const melting = meltingCurrent(feedNow, { wireDiameter: setting.wireDiameter, extension: extensionNow });
      const slow = slowVoltageNoise.deviation * slowVoltage.next(seconds);
      const steady = sourceVoltage(setting, melting, voltageRise) + slow;

      const interval = seconds / count;
      const averaged = averagedDeviation(fastVoltageNoise.memory, seconds);
      const current: number[] = [];
      const voltage: number[] = [];
      let power = 0;
      for (let sample = 0; sample < count; sample += 1) {
        const fast = fastVoltageNoise.deviation * (count === 1 ? averaged * random.normal() : fastVoltage.next(interval));
        const missing = Math.exp(-litFor / lightingTime);
        // Single readings of an alternating arc are its RMS values; a square wave's RMS is its height.
        const sign = setting.alternating && count > 1 && Math.floor(litFor / halfPeriod + 1e-6) % 2 === 1 ? -1 : 1;
        // When the arc's own voltage moves, the current changes along the source's droop.
        const amperes = Math.round(sign * (melting - fast / setting.droop) * (1 - 0.65 * missing) * 10) / 10;
        const volts = Math.round(sign * (steady + fast) * (1 - 0.3 * missing) * 100) / 100;
        current.push(amperes);
        voltage.push(volts);
        power += (amperes * volts) / 1000 / count;
        litFor += interval;
      }
      const shownFeed = feedNow * (1 + feedSensorDeviation * random.normal());
      return { current, voltage, wireFeedSpeed: Math.round(shownFeed * 1000) / 1000, power };
    },
  };
}

/**
 * Voltage at the arc, V, when it draws `current` A and the set voltage is `rise` V too high. The source has a constant voltage with a slight droop;
 * 0.02 V/A, two volts in a hundred amperes, is common practice, no source.
 */
function sourceVoltage(source: ArcSetting, current: number, rise: number): number {
  return source.voltage + rise - source.droop * (current - source.current);
}
