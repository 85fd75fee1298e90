import type { Clock } from '../clock.js';

/** By less than this the wall clock may go wrong without a word, µs. */
const least = 1_000_000;
/** Two clocks that were read further apart than this are read again, µs. */
const readWithin = 50_000;

/** Gives how far the wall clock was set, forward or back, since it was asked last, µs; 0 where it ran on. */
export function clockSteps(clock: Clock): () => number {
  let ahead = difference(clock);
  return () => {
    // Whole, as the times that it is added to.
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
