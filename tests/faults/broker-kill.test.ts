import { describe, expect, it } from 'vitest';
import { hasMosquitto } from '../ingest/mqtt/start-mosquitto.js';
import { brokerKillLoop } from './broker-kill-loop.js';
import { countFrom, shown, underSeed } from './outcome.js';
import { staleMark } from './stale-mark.js';

const kills = countFrom('BROKER_KILLS', 10);

describe.skipIf(!hasMosquitto)('an outside broker that forgets (needs /usr/sbin/mosquitto)', () => {
  it(`dies ${kills} times: carriages send again from the stored mark, and every item is stored once`, { timeout: 240_000 + kills * 20_000 }, async () => {
    const outcome = await underSeed((seed) => brokerKillLoop(kills, seed));
    expect(outcome.problems, shown(outcome)).toEqual([]);
  });

  it('is told the stored mark again where it comes back with an older one', { timeout: 120_000 }, async () => {
    const outcome = await underSeed(staleMark);
    expect(outcome.problems, shown(outcome)).toEqual([]);
  });
});
