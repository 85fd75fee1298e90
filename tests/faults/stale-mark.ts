import { accountProblems } from '../ingest/accounted.js';
import { startMosquitto } from '../ingest/mqtt/start-mosquitto.js';
import { seededRandom } from '../model/seeded-random.js';
import { awaitMark, expectedMark, type StoredBoot } from './ask-service.js';
import { carriagePlan, type PlannedMessage } from './carriage-plan.js';
import { judgedSite } from './endless-carriage.js';
import { createMarkSender } from './mark-sender.js';
import type { Outcome } from './outcome.js';
import { scratchDir, startProcess } from './service-process.js';

/**
 * A broker that dies after everything is stored, and comes back with what it had written before that: what it retains must be brought
 * up to date although nothing new is sent, or a carriage would keep and send again for good what is stored long since.
 */
export async function staleMark(seed: number): Promise<Outcome> {
  const dir = scratchDir();
  const broker = await startMosquitto(['log_type none', 'log_type error']);
  const service = startProcess({ dataDir: dir.path, env: { SEAMWARDEN_MQTT_URL: broker.url } });
  const carriage = 'stale-1';
  const plan = carriagePlan('seam-stale', 'single', seededRandom(seed))();
  const readings = plan.messages.filter(({ kind }) => kind === 'readings');
  const half = Math.floor(readings.length / 2);
  const marked = (list: readonly PlannedMessage[]): StoredBoot[] => [expectedMark('b1', list.flatMap(({ items }) => items.map(({ seq }) => seq)))];
  const send = async (list: readonly PlannedMessage[]): Promise<void> => {
    const queue = [...list];
    await createMarkSender({ site: judgedSite, carriage, next: () => queue.shift() ?? null }).run(broker.url);
  };
  try {
    await service.listening;
    await send(readings.slice(0, half));
    await awaitMark(broker.url, judgedSite, carriage, marked(readings.slice(0, half)));
    // Ended in order it writes what it has, and then not again for half an hour (mosquitto.conf(5), autosave_interval).
    await broker.pause();
    await broker.restart();
    await send(readings.slice(half));
    await awaitMark(broker.url, judgedSite, carriage, marked(readings));
    await broker.kill();
    await broker.restart();
    const problems: string[] = await awaitMark(broker.url, judgedSite, carriage, marked(readings), 30).then(
      () => [],
      (error: unknown) => [`nothing new was sent, and the retained mark stays behind: ${String(error)}`],
    );
    await service.kill('SIGTERM');
    problems.push(...accountProblems(dir.path));
    return { scenario: 'stale mark', seed, counted: '1 kill', problems };
  } finally {
    await service.kill('SIGKILL');
    await broker.stop();
    dir.remove();
  }
}
