import { createNoise } from './noise.js';
import type { Random } from './random.js';
import type { Stretch } from './run-script.js';

/** Where the carriage is and how fast it goes; `speed` holds until the next step. */
export interface Position {
  /** mm since the odometer was last zeroed. */
  readonly travel: number;
  /** mm/min. */
  readonly speed: number;
}

export interface CarriageMotion {
  /** The position now, with the speed that the drive makes over the coming `seconds`. */
  next(stretch: Stretch, seconds: number, outAt: number | null): Position;
  zero(): void;
}

/** s in which the drive reaches 63 % of a new speed, and the share by which it wanders; common practice, no source. */
const driveTime = 0.08;
const speedDeviation = 0.004;
const speedMemory = 2;
/** mm/min below which a stopped drive counts as stopped. */
const standstill = 5;

export function createMotion(random: Random): CarriageMotion {
  const noise = createNoise(speedMemory, random);
  let travel = 0;
  let driven = 0;
  return {
    next: (stretch, seconds, outAt) => {
      driven = stretch.speed + (driven - stretch.speed) * Math.exp(-seconds / driveTime);
      if (stretch.speed === 0 && Math.abs(driven) < standstill) driven = 0;
      let speed = driven * (1 + speedDeviation * noise.next(seconds));
      if ('behindOut' in stretch.until && outAt !== null) {
        // The operator drives back to a mark: the last step ends there instead of beyond it.
        const left = outAt - stretch.until.behindOut - travel;
        if (speed * (seconds / 60) < left) {
          speed = (left * 60) / seconds;
          driven = 0;
        }
      }
      // The sensor's resolution is applied before the integral, so that the sent values add up.
      speed = Math.round(speed * 10) / 10;
      const position = { travel, speed };
      travel += (speed * seconds) / 60;
      return position;
    },
    zero: () => { travel = 0; },
  };
}
