import type { Clock } from '../clock.js';

/** Steps of the wall clock smaller than this are no news, µs. */
const least = 1_000_000;
/** If the two clocks were read further apart than this, they are read again, µs. */
const readWithin = 50_000;

/** The wall clock for all who keep ages: where somebody sets it, it goes on as before until `step` is called, so that all ages are adjusted at once. */
export interface FollowedClock extends Clock {
  /** Follows the wall clock, and says how far it was set, forward or back, since the last call, µs; 0 if it was not. */
  step(): number;
}

export function followedClock(clock: Clock): FollowedClock {
  let ahead = difference(clock);
  return {
    steady: clock.steady,
    now() {
      const steady = clock.steady();
      const wall = clock.now();
      return Math.abs(wall - steady - ahead) < least ? wall : Math.round(steady + ahead);
    },
    step() {
      // A whole number, like the times to which it is added.
      const step = Math.round(difference(clock) - ahead);
      if (Math.abs(step) < least) return 0;
      ahead += step;
      return step;
    },
  };
}

function difference(clock: Clock): number {
  let ahead = 0;
  for (let attempt = 0; attempt < 5; attempt += 1) {
    const before = clock.steady();
    ahead = clock.now() - before;
    if (clock.steady() - before < readWithin) break;
  }
  return ahead;
}

/** `3,600 s back`, for people. */
export function stepInWords(step: number): string {
  const seconds = (Math.abs(step) / 1e6).toLocaleString('en-US', { maximumFractionDigits: 1 });
  return `${seconds} s ${step < 0 ? 'back' : 'forward'}`;
}
