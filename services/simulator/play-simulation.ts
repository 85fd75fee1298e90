import { setTimeout as sleep } from 'node:timers/promises';
import { planCarriage, type CarriagePlan } from './carriage-plan.js';
import { createCarriagePlayer } from './carriage-player.js';
import { planScenario, type Scenario } from './scenarios.js';
import type { Sending } from './simulated-carriage.js';

export interface Simulation extends Sending {
  /** How many carriages, `c1` to `cN`. */
  readonly carriages: number;
  /** What further carriages show, and how each sends: in blocks of so many ms, or by readings (null). */
  readonly scenarios: readonly { readonly scenario: Scenario; readonly block: number | null }[];
}

/** One carriage of a simulation and how it sends. */
export interface SimulatedCarriage {
  readonly plan: CarriagePlan;
  readonly sending: Sending;
}

/** All carriages of a simulation. */
export function simulatedCarriages({ carriages, scenarios, rate, block, seed, start }: Simulation): SimulatedCarriage[] {
  const sending = { rate, block, seed, start };
  return [
    ...Array.from({ length: carriages }, (_, place) => ({ plan: planCarriage(place + 1, seed), sending })),
    ...scenarios.map((own) => ({ plan: planScenario(own.scenario, seed), sending: { ...sending, block: own.block } })),
  ];
}

export interface Play extends Omit<Simulation, 'start'> {
  /** `mqtt://` or `mqtts://`. */
  readonly url: string;
  /** How many times faster than real time; the carriages' clocks run faster too. */
  readonly speed: number;
  /** Ends the play: the carriages say `offline` and disconnect. */
  readonly signal: AbortSignal;
  readonly log: (line: string) => void;
  /** True time of the first instant, ms since 1970; now where absent. */
  readonly start?: number;
}

/** ms between two looks at what is due. */
const tick = 20;

/**
 * Simulates carriages against a broker until `signal` aborts. A broker that cannot be reached is tried again for ever; whatever
 * was due in the meantime is sent later, with its own times. Never rejects because of the broker.
 */
export async function playSimulation(play: Play): Promise<void> {
  const players = simulatedCarriages({ ...play, start: play.start ?? Date.now() }).map(({ plan, sending }) => createCarriagePlayer(play.url, plan, sending, play.log));
  const begun = performance.now();
  while (!play.signal.aborted) {
    const simulated = (performance.now() - begun) * play.speed;
    for (const player of players) player.advance(simulated);
    // Only the signal ends this wait early.
    await sleep(tick, undefined, { signal: play.signal }).catch(() => undefined);
  }
  await Promise.all(players.map((player) => player.stop()));
}
