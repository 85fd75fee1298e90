import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import { startMosquitto } from '../ingest/mqtt/start-mosquitto.js';
import { seededRandom } from '../model/seeded-random.js';
import { getJson, until } from './ask-service.js';
import { carriagePlan, planStyles, type PlannedMessage, type PlannedRun } from './carriage-plan.js';
import { judgedSite, type Judged } from './endless-carriage.js';
import { judgeEnd } from './judge-end.js';
import { identityOf } from './kept-items.js';
import { createMarkSender, type MarkSender } from './mark-sender.js';
import type { Outcome } from './outcome.js';
import { scratchDir, startProcess } from './service-process.js';

interface OneRun {
  readonly name: string;
  readonly sender: MarkSender;
  readonly begin: PlannedMessage;
  readonly end: PlannedMessage;
  readonly whole: () => PlannedRun;
}

/** A carriage with one run whose arc is lit again and again. Its assignment has no number, so no mark can cover it: it is sent before the first kill. */
function endlessRun(style: (typeof planStyles)[number], seed: number, finishing: () => boolean): OneRun {
  const name = `${style}-1`;
  const plan = carriagePlan(`seam-${name}`, style, seededRandom(seed));
  const first = plan();
  const parts: PlannedRun[] = [first];
  const queue = first.messages.filter(({ kind }) => kind === 'readings');
  const next = (): PlannedMessage | null => {
    if (queue.length === 0 && !finishing()) {
      const part = plan();
      parts.push(part);
      queue.push(...part.messages.filter(({ kind }) => kind === 'readings'));
    }
    return queue.shift() ?? null;
  };
  const [begin, end] = [first.messages[0], first.messages.at(-1)];
  if (begin === undefined || end === undefined) throw new Error('a plan without assignments');
  return {
    name,
    begin,
    end,
    sender: createMarkSender({ site: judgedSite, carriage: name, next }),
    whole: () => {
      const samples = new Map<number, number>();
      for (const part of parts) for (const [arc, count] of part.samples) samples.set(arc, (samples.get(arc) ?? 0) + count);
      // Within a part once, and once between two of them.
      return { seam: first.seam, run: first.run, messages: [], samples, restarts: samples.size * (2 * parts.length - 1) };
    },
  };
}

/** Publishes the assignment of every carriage, and waits until the service shows what must come of it. */
async function assign(url: string, http: string, runs: readonly OneRun[], which: 'begin' | 'end'): Promise<void> {
  const client = await mqtt.connectAsync(url, { clientId: 'assigns' });
  for (const { name, [which]: message } of runs) await client.publishAsync(`weld/${judgedSite}/${name}/${message.kind}`, message.payload, { qos: 1 });
  await client.endAsync();
  await until(`the service to know every assignment's ${which}`, async () => {
    const { items } = (await getJson(http, '/api/carriages')) as { items: { carriage: string; assignment: unknown }[] };
    return runs.every(({ name }) => items.some(({ carriage, assignment }) => carriage === name && (assignment === null) === (which === 'end')));
  });
}

/** A carriage here ends only when the mark has passed all it sent, so all of that has to be in the store. */
function everSent(carriage: string, sent: readonly PlannedMessage[]): Map<string, string> {
  return new Map(sent.flatMap(({ items }) => items.map((item) => [identityOf(judgedSite, carriage, item), JSON.stringify(item)] as const)));
}

/**
 * Kills the outside broker at random instants and starts it again. It writes its sessions once a second, so what it acknowledged
 * since then, to carriages and from the service, is forgotten; the carriages send again what the `stored` mark has not passed.
 */
export async function brokerKillLoop(kills: number, seed: number): Promise<Outcome> {
  const random = seededRandom(seed);
  const dir = scratchDir();
  const broker = await startMosquitto(['log_type none', 'log_type error', 'autosave_interval 1']);
  const state = { finishing: false };
  const runs = planStyles.map((style, index) => endlessRun(style, seed + index, () => state.finishing));
  const service = startProcess({ dataDir: dir.path, env: { SEAMWARDEN_MQTT_URL: broker.url } });
  const problems: string[] = [];
  try {
    const addresses = await service.listening;
    await assign(broker.url, addresses.http, runs, 'begin');
    const sending = Promise.all(runs.map(({ sender }) => sender.run(broker.url)));
    for (let kill = 0; kill < kills; kill += 1) {
      // Half of them while the one before is being got over.
      if (random.chance(0.5)) {
        const before = runs.map(({ sender }) => sender.passed());
        await until('every mark to go on', () => runs.every(({ sender }, i) => sender.passed() > (before[i] ?? 0)), 90);
      }
      await wait(random.whole(20, 2_200));
      await broker.kill();
      await wait(random.whole(0, 300));
      await broker.restart();
    }
    state.finishing = true;
    const late = wait(120_000, true, { ref: false });
    if ((await Promise.race([sending, late])) === true) problems.push(`120 s after the last kill the marks have passed ${runs.map(({ sender }) => `${sender.passed()} of ${sender.sent.length}`).join(', ')} messages`);
    await assign(broker.url, addresses.http, runs, 'end');
    const judged: Judged[] = runs.map(({ name, sender, begin, end, whole }) => ({
      name,
      runs: [whole()],
      sender: { acknowledged: everSent(name, sender.sent), sent: [begin, ...sender.sent, end] },
    }));
    problems.push(...(await judgeEnd(service, addresses, dir.path, judged, 60)));
    const sum = (value: (sender: MarkSender) => number): number => runs.reduce((all, { sender }) => all + value(sender), 0);
    const counted = `${kills} kills, ${runs.reduce((all, { sender }) => all + sender.sent.reduce((own, { items }) => own + items.length, 0), 0)} items, ${sum((own) => own.resent())} messages sent again, ${sum((own) => own.resentAcknowledged())} of them acknowledged by the broker before`;
    return { scenario: 'outside broker killed', seed, counted, problems };
  } finally {
    for (const { sender } of runs) sender.stop();
    await service.kill('SIGKILL');
    await broker.stop();
    dir.remove();
  }
}
