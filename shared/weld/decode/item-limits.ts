/** What is taken of one quantity, in the units of the outside. */
export interface QuantityLimit {
  readonly name: 'current' | 'voltage' | 'travelSpeed' | 'wireFeedSpeed' | 'travel' | 'plateTemperature';
  readonly low: number;
  readonly high: number;
  readonly required: boolean;
  /** The limits in words. */
  readonly taken: string;
}

function limit(name: QuantityLimit['name'], low: number, high: number, unit: string, required = false): QuantityLimit {
  return { name, low, high, required, taken: `a number from ${low} to ${high} (${unit})` };
}

export const quantityLimits = {
  current: limit('current', -5000, 5000, 'A', true),
  voltage: limit('voltage', -500, 500, 'V', true),
  travelSpeed: limit('travelSpeed', -20_000, 20_000, 'mm/min'),
  wireFeedSpeed: limit('wireFeedSpeed', -100, 100, 'm/min'),
  travel: limit('travel', -1e7, 1e7, 'mm'),
  plateTemperature: limit('plateTemperature', -100, 1500, '°C'),
} as const;

/** Shortest and longest sample interval of a block, ms. */
export const intervalLimit = { low: 0.02, high: 1000, taken: 'a number from 0.02 to 1000 (ms)' } as const;
export const mostSamples = 10_000;
export const mostArcs = 6;
/** Most items in one message. */
export const mostItems = 1000;
export const longestBoot = 64;
