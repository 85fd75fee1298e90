import { quantities, sentNames, type SentName } from '../quantities.js';

/** The accepted values of one quantity, in the units of the API. */
export interface QuantityLimit {
  readonly name: SentName;
  readonly low: number;
  readonly high: number;
  readonly required: boolean;
  /** The limits in words. */
  readonly taken: string;
}

/** The limits in the order of the table. */
export const quantityLimits: readonly QuantityLimit[] = sentNames.map((name) => {
  const { unit, sent: { low, high, required } } = quantities[name];
  return { name, low, high, required, taken: `a number from ${low} to ${high} (${unit})` };
});

/** Shortest and longest sample interval of a block, ms. */
export const intervalLimit = { low: 0.02, high: 1000, taken: 'a number from 0.02 to 1000 (ms)' } as const;
export const mostSamples = 10_000;
export const mostArcs = 6;
/** The most items in one message. */
export const mostItems = 1000;
export const longestBoot = 64;
