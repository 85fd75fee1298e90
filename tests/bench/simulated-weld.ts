import { seededRandom } from '../model/seeded-random.js';
import { burningRow } from '../weld/burning-rows.js';
import type { BurningRow } from '../weld/burning-rows.js';

/** Current A, voltage V, wire feed speed m/min, travel speed mm/min of one wire of 4 mm; mid values of its usual ranges. */
export const setPoints = { current: 650, voltage: 31, wireFeedSpeed: 1.3, travelSpeed: 520 } as const;
export type SetQuantity = keyof typeof setPoints;

/** Standard deviation of the 100 ms means, as a share of the set point. */
export type Noise = Readonly<Record<SetQuantity, number>>;

export const noiseLevels: Readonly<Record<string, Noise>> = {
  low: { current: 0.01, voltage: 0.007, wireFeedSpeed: 0.003, travelSpeed: 0.004 },
  middle: { current: 0.025, voltage: 0.015, wireFeedSpeed: 0.006, travelSpeed: 0.008 },
  high: { current: 0.04, voltage: 0.025, wireFeedSpeed: 0.01, travelSpeed: 0.015 },
};

/** Shares of the noise's variance: without memory, with one of 0.8 s, and with one of 6 s (puddle, track, wire off the spool). */
const parts = [
  { memory: 0, variance: 0.55 },
  { memory: 0.8, variance: 0.35 },
  { memory: 6, variance: 0.1 },
];

export interface WeldPlan {
  readonly seed: number;
  readonly noise: Noise;
  /** s. */
  readonly duration: number;
  /** Factor on the set point at a time in s. */
  readonly factor: (quantity: SetQuantity, time: number) => number;
}

/** Rows of one arc that burns throughout, made one after the other from index 0. */
export function* simulatedWeld({ seed, noise, duration, factor }: WeldPlan): Generator<BurningRow> {
  const random = seededRandom(seed);
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - random.next())) * Math.cos(2 * Math.PI * random.next());
  const names = Object.keys(setPoints) as SetQuantity[];
  const state = new Map(names.map((name) => [name, parts.map(() => normal())]));
  let travelled = 0;
  for (let index = 0; index < duration * 10; index += 1) {
    const at = (name: SetQuantity): number => {
      let sum = 0;
      const own = state.get(name) ?? [];
      parts.forEach(({ memory, variance }, n) => {
        const kept = memory === 0 ? 0 : Math.exp(-0.1 / memory);
        const next = kept * (own[n] ?? 0) + Math.sqrt(1 - kept * kept) * normal();
        own[n] = next;
        sum += Math.sqrt(variance) * next;
      });
      return setPoints[name] * factor(name, index / 10) * (1 + noise[name] * sum);
    };
    const travelSpeed = at('travelSpeed');
    yield burningRow(index, travelled, travelSpeed, [{ current: at('current'), voltage: at('voltage'), wireFeedSpeed: at('wireFeedSpeed') }]);
    travelled += travelSpeed / 600;
  }
}
