import { countFrom } from './counts.js';

/**
 * The seed at which random tests begin: what the environment names by `name`, or else by CHECK_SEED, which `npm run check` draws and prints, or else a new
 * one.
 */
export function firstSeed(name = 'CHECK_SEED'): number {
  return countFrom(name, countFrom('CHECK_SEED', 1 + Math.floor(Math.random() * 2 ** 31)));
}

/** Where to begin for `count` out of the seeds 1 to `known`: what the environment names by `name`, or else another part of them each time. */
export function firstOfKnown(name: string, known: number, count: number): number {
  return countFrom(name, 1 + count * (firstSeed() % Math.max(1, Math.floor(known / count))));
}

/**
 * So many seeds, and more while something is lacking that chance has to bring, at most 20 times as many: whichever seed is the first, what comes up once in
 * `count` is missed less often than once in a hundred million.
 */
export function* seedsFrom(first: number, count: number, lacking: () => boolean = () => false): Generator<number> {
  for (let at = 0; at < count || (at < 20 * count && lacking()); at += 1) yield first + at;
}
