import { seededRandom } from '../model/seeded-random.js';

export type MessageKind = 'readings' | 'blocks';

export const site = 'bench';
export const carriageName = (index: number): string => `c${index}`;

/** Samples of a block, 1 ms each. */
export const blockSamples = 100;

/** A made-up procedure with a window on everything that is judged; the values below lie within it, but for a stretch now and then. */
export const procedure = {
  id: 'BENCH-1',
  title: 'Invented for the bench: single wire, every window there is',
  process: '121',
  thermalEfficiency: 1,
  runGroups: [
    {
      name: 'all',
      runs: [1, 2],
      arcs: [
        {
          arc: 1, currentType: 'DC', polarity: 'EP', wireDiameter: 4, wires: 1, offset: 0,
          current: { min: 550, max: 670 }, voltage: { min: 29, max: 34 }, wireFeedSpeed: { min: 1.1, max: 1.3 },
          currentVariation: { max: 0.12 }, voltageVariation: { max: 0.08 },
        },
      ],
      travelSpeed: { min: 470, max: 570 },
      heatInput: { min: 1.8, max: 2.7 },
    },
  ],
} as const;

export const assignmentOf = (index: number): object => ({ seam: `BENCH-${index}`, run: 1, procedure: procedure.id, seamLength: 30_000, thickness: 20 });

/** 610 A ± 12, 31.5 V ± 0.6, 520 mm/min ± 4, 1.2 m/min ± 0.02, as sensors give them; for 10 s of every 5 minutes 15 % more current, which is outside. */
export function* payloads(kind: MessageKind, index: number, count: number, start: number): Generator<string> {
  const random = seededRandom(index + 1);
  const around = (middle: number, width: number, places: number): number => Number((middle + (2 * random.next() - 1) * width).toFixed(places));
  for (let seq = 0; seq < count; seq += 1) {
    const middle = seq % 3_000 < 2_900 ? 610 : 701;
    const lists = (n: number): { current: number | number[]; voltage: number | number[] } => {
      if (n === 1) return { current: around(middle, 12, 1), voltage: around(31.5, 0.6, 1) };
      return { current: Array.from({ length: n }, () => around(middle, 12, 1)), voltage: Array.from({ length: n }, () => around(31.5, 0.6, 1)) };
    };
    const time = start + seq * 100;
    const own = kind === 'readings' ? lists(1) : { interval: 1, ...lists(blockSamples) };
    yield JSON.stringify({ boot: 'b1', seq, time, ...own, travelSpeed: around(520, 4, 0), wireFeedSpeed: around(1.2, 0.02, 2) });
  }
}
