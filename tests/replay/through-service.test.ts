import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isFull } from '../counts.js';
import { firstSeed } from '../seeds.js';
import { outlookStart, outlookThroughService } from './outlook-through-service.js';
import { itemsSettled } from './publish-case.js';
import { readCases } from './read-cases.js';
import { startService, type RunningService } from './start-service.js';
import { throughService } from './through-service.js';

describe('golden cases through the running service: MQTT in, API out', () => {
  let service: RunningService | null = null;
  let sent = 0;
  const part = firstSeed() % 4;

  beforeAll(async () => {
    service = await startService();
  });

  afterAll(async () => {
    expect(await service?.stop()).toEqual([]);
  });

  // cases.test.ts computes each of them; this tests the way through the service. Each case has its own carriage, so several run at once.
  it.concurrent.each(readCases().filter((_, at) => isFull || at % 4 === part))('$name: $file.title', async (golden) => {
    if (service === null) throw new Error('the service is not running');
    const { items, differ } = await throughService(service, golden);
    sent += items;
    expect(differ, golden.file.source).toEqual([]);
  });

  it('counts every item of them', async () => {
    if (service === null) throw new Error('the service is not running');
    expect(sent).toBeGreaterThan(0);
    // A reading of several arcs counts as an item for each.
    expect(await itemsSettled(service)).toBeGreaterThanOrEqual(sent);
  });

  it('says of a weld that is going on how much is to go, when it ends, what wire that takes and what will leave its window', async () => {
    if (service === null) throw new Error('the service is not running');
    const { outlook, drift } = await outlookThroughService(service);
    // 2,900 + 100 − 700 = 2,300 mm at 600 mm/min are 230 s from 70 s on: 300 s after the start
    expect(outlook).toMatchObject({ lengthToGo: 2300, endsAt: new Date(outlookStart + 300_000).toISOString(), absent: {} });
    // 1.25·2300/600 = 4.791667 m; (π/4)·0.004²·7850 = 0.09864601 kg/m: 0.4726788 kg. 70 s have melted 1.458333 m, 0.1438588 kg; 0.3561412 kg are left: it ends
    // 2300·(1 − 0.3561412/0.4726788) = 567.06 mm short
    const [wire] = outlook?.wire ?? [];
    expect(wire?.lengthNeeded).toBeCloseTo(4.791667, 6);
    expect(wire?.massNeeded).toBeCloseTo(0.4726788, 6);
    expect(wire?.massLeft).toBeCloseTo(0.3561412, 6);
    expect(wire?.endsShortBy).toBeCloseTo(567.06, 1);
    // 32.475 V at 70 s, 30.5 s and 305 mm before 34 V, noise of 0.05 % at most 0.9 s sooner
    expect(drift).toMatchObject([{ arc: 1, quantity: 'voltage', limit: 34 }]);
    expect(drift[0]?.leavesIn).toBeGreaterThan(29.4);
    expect(drift[0]?.leavesIn).toBeLessThan(30.7);
    expect(drift[0]?.leavesAfter).toBeCloseTo(10 * (drift[0]?.leavesIn ?? 0), 6);
  });
});
