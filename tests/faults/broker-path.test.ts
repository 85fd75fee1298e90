import { describe, expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { hasMosquitto } from '../ingest/mqtt/start-mosquitto.js';
import { brokerKillLoop } from './broker-kill-loop.js';
import { killLoop } from './kill-loop.js';
import { networkScenario } from './network-scenario.js';
import { shown, underSeed } from './outcome.js';
import { staleMark } from './stale-mark.js';

const kills = countFrom('OUTSIDE_KILLS', { soon: 2, full: 8 });
const brokerKills = countFrom('BROKER_KILLS', { soon: 2, full: 10 });
const faults = countFrom('NETWORK_FAULTS', { soon: 1, full: 6 });

// Side by side: most of each is waiting until somebody is back, and a half-open connection is noticed after 45 s.
describe.concurrent('on the path between carriage and record', () => {
  it(`a network that cuts, swallows and is slow between carriages and the service's broker, ${faults} times`, { timeout: 300_000 + faults * 30_000 }, async () => {
    const outcome = await underSeed((seed) => networkScenario(faults, seed, 'embedded broker'));
    expect(outcome.problems, shown(outcome)).toEqual([]);
  });

  it.skipIf(!hasMosquitto)(`such a network between an outside broker and the service, ${faults} times`, { timeout: 300_000 + faults * 30_000 }, async () => {
    const outcome = await underSeed((seed) => networkScenario(faults, seed, 'outside broker'));
    expect(outcome.problems, shown(outcome)).toEqual([]);
  });

  it.skipIf(!hasMosquitto)(`the service is killed ${kills} times on an outside broker: what that acknowledged is stored once`, { timeout: 300_000 + kills * 20_000 }, async () => {
    const outcome = await underSeed((seed) => killLoop(kills, seed, 'outside broker'));
    expect(outcome.problems, shown(outcome)).toEqual([]);
  });

  it.skipIf(!hasMosquitto)(`the outside broker is killed ${brokerKills} times and forgets: carriages send again from the stored mark`, { timeout: 300_000 + brokerKills * 20_000 }, async () => {
    const outcome = await underSeed((seed) => brokerKillLoop(brokerKills, seed));
    expect(outcome.problems, shown(outcome)).toEqual([]);
  });

  it.skipIf(!hasMosquitto)('the outside broker comes back with an older stored mark: it is told the newest again', async () => {
    const outcome = await underSeed(staleMark);
    expect(outcome.problems, shown(outcome)).toEqual([]);
  });
});
