import { describe, expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { firstOfKnown, seedsFrom } from '../seeds.js';
import type { CarriageEvent } from './replay.js';
import { randomRun } from '../model/random-run.js';
import { withCoolingLimits } from '../model/random-cooling.js';
import { withPlates } from '../model/random-plates.js';
import { randomWindows } from '../model/random-windows.js';
import { seededRandom } from '../model/seeded-random.js';
import { compareWindows } from './compare-windows.js';

const seeds = countFrom('WINDOW_SEEDS', { soon: 15, full: 300 });
// As in against-model.test.ts, whose streams these are.
const first = firstOfKnown('WINDOW_FIRST_SEED', 300, seeds);
/** Few seeds need not contain every quantity. */
const manySeeds = seeds >= 200;
const id = 'P-1';

/** The same stream with every assignment under the procedure. */
const underProcedure = (events: readonly CarriageEvent[]): CarriageEvent[] =>
  events.map((event) => (event.type === 'assignment' && event.assignment !== null ? { ...event, assignment: { ...event.assignment, procedure: id } } : event));

describe('windows: the program against the model', () => {
  it('counts an arc as burning on its tab when a row begins with a data gap', () => {
    // Arc 3 is on the run-on tab, one of its messages is lost, and the gap reaches into a row: no arc is in the weld zone there.
    const { events } = randomRun(558);
    const items = events.flatMap((event) => (event.type === 'item' ? [event.item] : []));
    expect(compareWindows(underProcedure(events), randomWindows(seededRandom(1_000_558), items, id)).found).toEqual([]);
  });

  it(`gives the excursions and lengths of the plain model for ${seeds} random runs from seed ${first} on`, { timeout: 3_600_000 }, () => {
    const wrong: string[] = [];
    const met = { current: 0, voltage: 0, wireFeedSpeed: 0, currentVariation: 0, voltageVariation: 0, travelSpeed: 0, heatInput: 0, meanHeatInput: 0, t85: 0, outside: 0 };
    for (const seed of seedsFrom(first, seeds, () => manySeeds && Object.values(met).includes(0))) {
      const { description, events } = randomRun(seed);
      const items = events.flatMap((event) => (event.type === 'item' ? [event.item] : []));
      const procedure = withCoolingLimits(randomWindows(seededRandom(seed + 1_000_000), items, id), 1.8, seed);
      const { found, excursions, outside } = compareWindows(withPlates(underProcedure(events), seed), procedure);
      for (const { quantity } of excursions) if (quantity in met) met[quantity as keyof typeof met] += 1;
      met.outside += outside > 0 ? 1 : 0;
      if (found.length > 0) wrong.push([description, ...found.slice(0, 6)].join('\n    '));
    }
    expect(wrong.length, `${wrong.length} of ${seeds} differ (replay one with WINDOW_FIRST_SEED and WINDOW_SEEDS=1):\n${wrong.slice(0, 10).join('\n')}`).toBe(0);
    if (manySeeds) for (const [what, count] of Object.entries(met)) expect(count, what).toBeGreaterThan(0);
  });
});
