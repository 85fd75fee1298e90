import type { Clock } from '../clock.js';

/** Steps of the wall clock smaller than this are ignored, µs. */
const least = 1_000_000;
/** If the two clocks were read further apart than this, they are read again, µs. */
const readWithin = 50_000;

/** Returns a function that says how far the wall clock was set, forward or back, since its last call, µs; 0 if it was not. */
export function clockSteps(clock: Clock): () => number {
  let ahead = difference(clock);
  return () => {
    // A whole number, like the times to which it is added.
    const step = Math.round(difference(clock) - ahead);
    if (Math.abs(step) < least) return 0;
    ahead += step;
    return step;
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
