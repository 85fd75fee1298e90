import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isFull } from '../counts.js';
import { replay } from './replay.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { plainRuns } from '../model/plain-run.js';
import { withAlternation } from '../model/random-alternation.js';
import { randomRun } from '../model/random-run.js';
import { withSensors } from '../model/random-sensors.js';
import { withWires } from '../model/random-wires.js';
import { canonicalOrder } from './carriage-events.js';
import { assignmentsFirst, shuffleEvents } from './shuffle-events.js';
import { rowsByName } from '../named-rows.js';

const runs = Number(process.env['ORDER_SEEDS'] ?? 40);
const settings = defaultWeldSettings;
const seeds = [fc.integer({ min: 1, max: 2 ** 31 - 1 }), fc.integer({ min: 1, max: 2 ** 31 - 1 })] as const;

describe('any order of arrival', () => {
  // This concerns only the model.
  it.runIf(isFull)('leaves the canonical order and the places of assignments as they are', { timeout: 600_000 }, () => {
    fc.assert(
      fc.property(...seeds, (seed, shuffle) => {
        const events = assignmentsFirst(randomRun(seed, { timedAssignments: true }).events);
        const figures = (arrived: typeof events): string => {
          const { items, assignments } = canonicalOrder(arrived);
          return JSON.stringify(plainRuns(items, assignments, settings));
        };
        expect(figures(shuffleEvents(events, shuffle))).toBe(figures(events));
      }),
      { numRuns: Math.min(runs, 20) },
    );
  });

  it('gives the same figures and densities to the last bit', { timeout: 3_600_000 }, () => {
    fc.assert(
      fc.property(...seeds, (seed, shuffle) => {
        const { events: sent, sensors } = withSensors(withAlternation(randomRun(seed, { timedAssignments: true }).events, seed), seed);
        const wired = withWires(sent, seed);
        const events = assignmentsFirst(wired.events);
        const options = { settings, procedures: wired.program, sensors };
        const inOrder = JSON.stringify(replay(events, options), rowsByName);
        expect(JSON.stringify(replay(shuffleEvents(events, shuffle), options), rowsByName)).toBe(inOrder);
      }),
      { numRuns: runs },
    );
  });
});
