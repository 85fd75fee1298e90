import { describe, expect, it } from 'vitest';
import { hasMosquitto } from '../ingest/mqtt/start-mosquitto.js';
import { networkScenario } from './network-scenario.js';
import { countFrom, shown, underSeed } from './outcome.js';

const faults = countFrom('NETWORK_FAULTS', 10);

// Side by side: much of a half-open connection is waiting for it to be noticed.
describe.concurrent('a network that cuts, swallows and is slow', () => {
  it(`between carriages and the service's broker, ${faults} times`, { timeout: 240_000 + faults * 30_000 }, async () => {
    const outcome = await underSeed((seed) => networkScenario(faults, seed, 'embedded broker'));
    expect(outcome.problems, shown(outcome)).toEqual([]);
  });

  it.skipIf(!hasMosquitto)(`between an outside broker and the service, ${faults} times`, { timeout: 240_000 + faults * 30_000 }, async () => {
    const outcome = await underSeed((seed) => networkScenario(faults, seed, 'outside broker'));
    expect(outcome.problems, shown(outcome)).toEqual([]);
  });
});
