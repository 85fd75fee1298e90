import { setTimeout as wait } from 'node:timers/promises';
import { checkRuns, checkStore, endlessCarriages, itemsAcknowledged, settledRuns } from '../faults/endless-carriage.js';
import type { Outcome } from '../faults/outcome.js';
import { logOf, startAgain, stopContainer, withDataOf, type Containers } from './start-containers.js';
import { healthOf, until } from '../faults/ask-service.js';

/** Messages after which the carriages begin no further run. */
const mostSent = 3_000;

/**
 * Stops the service's container and starts it again, several times, while carriages send; in the end every item that was
 * acknowledged, by the service itself or by the broker beside it, is in the store once.
 */
export async function stopScenario(containers: Containers, kind: 'embedded' | 'outside', stops: number, seed: number): Promise<Outcome> {
  const broker = kind === 'outside' ? await containers.broker() : null;
  const service = await containers.service(broker?.serviceUrl ?? null);
  const mqtt = broker?.carriagesUrl ?? service.mqtt;
  const state = { finishing: false };
  // A broker takes faster than a service that is away can store, and nobody needs to wait for that.
  const enough = (): boolean => carriages.reduce((sum, { sender }) => sum + sender.sent.length, 0) > mostSent;
  const carriages = endlessCarriages(seed, () => state.finishing || enough());
  const sending = Promise.all(carriages.map(({ sender }) => sender.run(() => mqtt)));
  const codes: number[] = [];
  const answers = (): Promise<boolean> => healthOf(service.http).then(({ status }) => status === 200, () => false);
  const said = async (): Promise<string> => (await logOf(service.container)).slice(-1_000);
  try {
    for (let stop = 0; stop < stops; stop += 1) {
      await wait(700);
      codes.push(await stopContainer(service.container));
      await startAgain(service.container);
      await until('the service to answer again', answers, 90).catch(async (error: unknown) => {
        throw new Error(`stop ${stop}; the service said: ${await said()}`, { cause: error });
      });
    }
    state.finishing = true;
    await sending;
    const found = await settledRuns({ http: service.http, mqtt }, carriages);
    const problems = [...checkRuns(carriages, found), ...codes.filter((code) => code !== 0).map((code) => `docker stop ended it with ${code}`)];
    await stopContainer(service.container);
    problems.push(...(await withDataOf(service.container, (dataDir) => checkStore(dataDir, carriages))));
    return { scenario: `docker stop, ${kind} broker`, seed, counted: `${stops} stops, ${itemsAcknowledged(carriages).size} items acknowledged`, problems };
  } finally {
    for (const { sender } of carriages) sender.stop();
  }
}
