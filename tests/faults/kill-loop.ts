import { setTimeout as wait } from 'node:timers/promises';
import { startMosquitto } from '../ingest/mqtt/start-mosquitto.js';
import { seededRandom } from '../model/seeded-random.js';
import { endlessCarriages, itemsAcknowledged, judgedSite } from './endless-carriage.js';
import { noFailingFiles } from './failing-files.js';
import { judgeEnd } from './judge-end.js';
import type { Outcome } from './outcome.js';
import { freePort, scratchDir, startProcess, type ServiceProcess } from './service-process.js';
import { slowSyncs } from './slow-syncs.js';
import { watchLead } from './watch-lead.js';

/** Sequence numbers that a carriage may be ahead of what is stored of it on an outside broker, which takes without end. */
const mostLead = 500;

/** How much longer every sync takes in a service whose disk is slow, ms. */
const slowSyncMs = 8;

/** Whose PUBACKs the carriages count: the service's own, or those of a Mosquitto that keeps the service's session while it is dead. */
export type Between = 'embedded broker' | 'outside broker';

/**
 * Kills the service at random instants while carriages send, starts it again on the same data, and compares what is there in
 * the end with what was acknowledged, and with a service that got the same items in order and was left alone.
 */
export async function killLoop(kills: number, seed: number, between: Between = 'embedded broker'): Promise<Outcome> {
  const random = seededRandom(seed);
  const dir = scratchDir();
  const broker = between === 'outside broker' ? await startMosquitto(['log_type none', 'log_type error']) : null;
  const mqttPort = broker?.port ?? (await freePort());
  const state = { up: false, finishing: false };
  const watch = broker === null ? null : await watchLead(broker.url, judgedSite);
  const carriages = endlessCarriages(seed, () => state.finishing, (name) => ({ held: (newest) => watch !== null && !state.finishing && watch.lead(name, newest) > mostLead }));
  const sending = Promise.all(carriages.map(({ sender }) => sender.run(() => (state.up ? `mqtt://127.0.0.1:${mqttPort}` : null))));
  let starting = 0;
  let current: ServiceProcess | null = null;
  // Where syncs are slow, commits are written beside the next computation: every second service has to do so.
  const slow = noFailingFiles() === null ? slowSyncs(dir.path, slowSyncMs) : {};
  let started = 0;
  const start = (): ServiceProcess => {
    started += 1;
    const env = started % 2 === 0 ? slow : {};
    current = startProcess(broker === null ? { dataDir: dir.path, mqttPort, env } : { dataDir: dir.path, env: { ...env, SEAMWARDEN_MQTT_URL: broker.url } });
    return current;
  };
  try {
    for (let kill = 0; kill < kills; kill += 1) {
      const service = start();
      // One in eight dies while it starts, which is while it takes up what the one before left. The first lives until it has its session.
      if (kill > 0 && random.chance(1 / 8)) {
        starting += 1;
        state.up = true;
        await wait(random.whole(200, 1_500));
      } else {
        await service.listening;
        state.up = true;
        await wait(random.whole(20, 1_200));
      }
      await service.kill('SIGKILL');
      state.up = broker !== null;
    }
    const last = start();
    const addresses = await last.listening;
    state.up = true;
    state.finishing = true;
    await sending;
    // An outside broker took as much in the meantime as the carriages sent.
    const problems = await judgeEnd(last, addresses, dir.path, carriages, 60 + kills);
    const resent = carriages.reduce((sum, { sender }) => sum + sender.resent(), 0);
    const runs = carriages.reduce((sum, own) => sum + own.runs.length, 0);
    const counted = `${kills} kills (${starting} while starting), ${itemsAcknowledged(carriages).size} items acknowledged, ${resent} messages sent again, ${runs} runs`;
    return { scenario: `SIGKILL under load, ${between}`, seed, counted, problems };
  } finally {
    for (const { sender } of carriages) sender.stop();
    await (current as ServiceProcess | null)?.kill('SIGKILL');
    await watch?.close();
    await broker?.stop();
    dir.remove();
  }
}
