import { mains, planOfType, type CarriagePlan } from './carriage-plan.js';

/** What further carriages show, each one thing. */
export const scenarioNames = ['alternating', 'ring', 'extension'] as const;
export type Scenario = (typeof scenarioNames)[number];

/** Degrees by which the current of the alternating arc is behind its voltage; chosen so that the product of RMS values is plainly too high. */
export const trailLag = 20;

/** V/A: with a source of steeper droop, single samples of the leading arc mostly stay within its limits, too; common practice, no source. */
const leadDroop = 0.04;

/** Their indexes, from which their noise follows, are beyond those of all numbered carriages. */
const firstIndex = 1001;

/**
 * The carriage of a scenario; all of it is invented.
 * - `alternating` (`t1`): a tandem whose trailing arc takes a sine wave, with the current behind the voltage.
 * - `ring` (`r1`): a shell ring turns under the carriage; each run is one full turn and its overlap.
 * - `extension` (`e1`): the electrode extension grows during each run, and at the same feed the current falls.
 */
export function planScenario(scenario: Scenario, seed: number): CarriagePlan {
  const index = firstIndex + scenarioNames.indexOf(scenario);
  switch (scenario) {
    case 'alternating': {
      const plan = planOfType('tandem', index, seed);
      const sine = { shape: 'sine', frequency: mains, lag: trailLag } as const;
      const arcs = plan.arcs.map((arc) => (arc.alternation === null ? { ...arc, droop: leadDroop } : { ...arc, alternation: sine }));
      return { ...plan, carriage: 't1', arcs, events: ['good', 'arcLoss'], firstEvent: 0 };
    }
    case 'ring': return { ...planOfType('single', index, seed), carriage: 'r1', procedure: 'SIM-3', ring: true, events: ['good', 'speedSlip'], firstEvent: 0 };
    case 'extension': return { ...planOfType('single', index, seed), carriage: 'e1', events: ['extensionDrift'], firstEvent: 0 };
  }
}
