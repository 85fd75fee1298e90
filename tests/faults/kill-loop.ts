import { setTimeout as wait } from 'node:timers/promises';
import { seededRandom } from '../model/seeded-random.js';
import { againstUndisturbed, checkRuns, checkStore, endlessCarriages, itemsAcknowledged, settledRuns } from './endless-carriage.js';
import type { Outcome } from './outcome.js';
import { freePort, scratchDir, startProcess, type ServiceProcess } from './service-process.js';

/**
 * Kills the service at random instants while carriages send, starts it again on the same data, and compares what is there in
 * the end with what was acknowledged, and with a service that got the same items in order and was left alone.
 */
export async function killLoop(kills: number, seed: number): Promise<Outcome> {
  const random = seededRandom(seed);
  const dir = scratchDir();
  const mqttPort = await freePort();
  const state = { up: false, finishing: false };
  const carriages = endlessCarriages(seed, () => state.finishing);
  const sending = Promise.all(carriages.map(({ sender }) => sender.run(() => (state.up ? `mqtt://127.0.0.1:${mqttPort}` : null))));
  const problems: string[] = [];
  let starting = 0;
  let current: ServiceProcess | null = null;
  try {
    for (let kill = 0; kill < kills; kill += 1) {
      const service = startProcess({ dataDir: dir.path, mqttPort });
      current = service;
      // One in eight dies while it starts, which is while it takes up what the one before left.
      if (random.chance(1 / 8)) {
        starting += 1;
        state.up = true;
        await wait(random.whole(200, 1_500));
      } else {
        await service.listening;
        state.up = true;
        await wait(random.whole(20, 1_200));
      }
      await service.kill('SIGKILL');
      state.up = false;
    }
    const last = startProcess({ dataDir: dir.path, mqttPort });
    current = last;
    const addresses = await last.listening;
    state.up = true;
    state.finishing = true;
    await sending;
    const found = await settledRuns(addresses, carriages).catch((error: unknown) => {
      throw new Error(`${error instanceof Error ? error.message : String(error)}; the service said: ${last.stderr().slice(-2_000)}`, { cause: error });
    });
    problems.push(...checkRuns(carriages, found));
    if (last.stderr().includes('"level":50')) problems.push(`the last service complained: ${last.stderr().slice(0, 1_000)}`);
    await last.kill('SIGTERM');
    problems.push(...checkStore(dir.path, carriages));
    problems.push(...(await againstUndisturbed(carriages, found)));
    const resent = carriages.reduce((sum, { sender }) => sum + sender.resent(), 0);
    const runs = carriages.reduce((sum, own) => sum + own.runs.length, 0);
    const counted = `${kills} kills (${starting} while starting), ${itemsAcknowledged(carriages).size} items acknowledged, ${resent} messages sent again, ${runs} runs`;
    return { scenario: 'SIGKILL under load', seed, counted, problems };
  } finally {
    for (const { sender } of carriages) sender.stop();
    await current?.kill('SIGKILL');
    dir.remove();
  }
}
