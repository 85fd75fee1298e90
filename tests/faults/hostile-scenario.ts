import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import { accountProblems } from '../ingest/accounted.js';
import { seededRandom, type Random } from '../model/seeded-random.js';
import { healthOf, itemCounts, refusedEntries, until, type ItemCounts } from './ask-service.js';
import { checkItems, checkRuns, endlessCarriages, settledRuns, type Carriage } from './endless-carriage.js';
import { hostileMessage, itemsOf, type HostileKind } from './hostile-payloads.js';
import { keptItems } from './kept-items.js';
import type { Outcome } from './outcome.js';
import { scratchDir, startProcess } from './service-process.js';

const clients = 6;
const window = 200;

interface Sent {
  messages: number;
  /** Items by the interface's own words, of messages whose number of items it settles. */
  items: number;
  senml: number;
}

/** Publishes hostile messages over several connections and waits for every acknowledgement. */
async function bombard(url: string, random: Random, from: number, to: number, kinds: readonly HostileKind[], sent: Sent): Promise<void> {
  let n = from;
  await Promise.all(
    Array.from({ length: clients }, async (_, client) => {
      const connection = await mqtt.connectAsync(url, { clientId: `hostile-${from}-${client}`, reconnectPeriod: 0 });
      const pending = new Set<Promise<unknown>>();
      while (n < to) {
        n += 1;
        const message = hostileMessage(random, n, kinds);
        sent.messages += 1;
        sent.items += itemsOf(message) ?? 0;
        if (message.topic.endsWith('/senml')) sent.senml += 1;
        const published = connection.publishAsync(message.topic, message.payload, { qos: message.qos, retain: message.retain });
        pending.add(published);
        void published.finally(() => pending.delete(published)).catch(() => undefined);
        if (pending.size >= window) await Promise.race(pending);
      }
      await Promise.all(pending);
      await connection.endAsync();
    }),
  );
}

/** One message far beyond the limit: the connection is closed, or the message is acknowledged and refused. */
async function tooLong(url: string, mebibytes: number): Promise<'closed' | 'acknowledged'> {
  const connection = await mqtt.connectAsync(url, { clientId: 'long', reconnectPeriod: 0 });
  const closed = new Promise<'closed'>((resolve) => {
    connection.on('close', () => {
      resolve('closed');
    });
  });
  connection.on('error', () => undefined);
  const answered = connection.publishAsync('weld/hostile/long/readings', Buffer.alloc(mebibytes * 1024 * 1024, '['), { qos: 1 }).then(
    () => 'acknowledged' as const,
    () => 'closed' as const,
  );
  const outcome = await Promise.race([closed, answered]);
  await connection.endAsync(true);
  return outcome;
}

const balanced = ({ received, stored, duplicate, refused }: ItemCounts): boolean => received === stored + duplicate + refused;

/** Good carriages weld while `messages` bad messages come in beside them over MQTT. */
export async function hostileScenario(messages: number, seed: number): Promise<Outcome> {
  const dir = scratchDir();
  const service = startProcess({ dataDir: dir.path });
  const state = { finishing: false, looking: true };
  const carriages = endlessCarriages(seed, () => state.finishing);
  const random = seededRandom(seed);
  const problems: string[] = [];
  const sent: Sent = { messages: 0, items: 0, senml: 0 };
  try {
    const addresses = await service.listening;
    let looks = 0;
    const looking = (async () => {
      for (let before = 0; state.looking; looks += 1) {
        const counts = await itemCounts(addresses.http);
        if (!balanced(counts) || counts.received < before) problems.push(`in between, after ${before}: ${JSON.stringify(counts)}`);
        before = counts.received;
        await wait(200);
      }
    })();
    const sending = Promise.all(carriages.map(({ sender }) => sender.run(() => addresses.mqtt)));
    const share = Math.floor(messages * 0.8);
    await bombard(addresses.mqtt, random, 0, share, ['readings', 'readings', 'readings', 'assignment', 'status'], sent);
    const long = [await tooLong(addresses.mqtt, 10), await tooLong(addresses.mqtt, 10), await tooLong(addresses.mqtt, 2)];
    if (long[2] !== 'acknowledged') problems.push('a message of 2 MiB was not refused and acknowledged');
    // A refused message of whatever length is one item.
    sent.items += long.filter((answer) => answer === 'acknowledged').length;
    problems.push(...(await checkCounts(addresses.http, dir.path, carriages, sent, 'exactly')));
    await bombard(addresses.mqtt, random, share, messages, ['senml'], sent);
    state.finishing = true;
    await sending;
    problems.push(...checkRuns(carriages, await settledRuns(addresses, carriages)), ...checkItems(dir.path, carriages));
    problems.push(...(await checkCounts(addresses.http, dir.path, carriages, sent, 'at least')));
    state.looking = false;
    await looking;
    if ((await healthOf(addresses.http)).status !== 200) problems.push('health does not answer 200 in the end');
    const refusals = await refusedEntries(addresses.http);
    const failed = refusals.filter(({ reason }) => reason.startsWith('an error of the program')).map(({ topic, reason, head }) => `${reason} on ${topic}: ${head.slice(0, 120)}`);
    problems.push(...failed.slice(0, 5), ...faultsIn(service.stderr()));
    const counts = await itemCounts(addresses.http);
    const counted = `${sent.messages} messages (10 MiB twice: ${long.slice(0, 2).join(', ')}), ${counts.received} items = ${counts.stored} stored + ${counts.duplicate} duplicate + ${counts.refused} refused, balanced in ${looks} looks`;
    for (const { sender } of carriages) sender.stop();
    await service.kill('SIGTERM');
    // Carriages that flooded may have waited for their turn to be folded again until now.
    problems.push(...accountProblems(dir.path));
    return { scenario: 'hostile payloads', seed, counted, problems };
  } finally {
    state.looking = false;
    for (const { sender } of carriages) sender.stop();
    await service.kill('SIGTERM');
    dir.remove();
  }
}

/** Errors that the service logged. */
function faultsIn(stderr: string): string[] {
  return stderr.split('\n').filter((line) => line.includes('"level":50')).slice(0, 5).map((line) => `logged: ${line.slice(0, 1_500)}`);
}

/** The counters against what was sent, what is kept and what is listed as refused. */
async function checkCounts(http: string, dataDir: string, carriages: readonly Carriage[], sent: Sent, how: 'exactly' | 'at least'): Promise<string[]> {
  const problems: string[] = [];
  const good = (): number => carriages.reduce((sum, { sender }) => sum + sender.acknowledged.size, 0);
  // The good carriages go on sending, so the counters are read between two looks at them.
  const before = good();
  const counts = await itemCounts(http);
  await wait(300);
  const refusals = await refusedEntries(http);
  const outsideReadings = refusals.filter(({ topic }) => /^weld\/hostile\/h[-\d]+\/(assignment|status)$/.test(topic)).length;
  const least = before + sent.items + outsideReadings + (how === 'exactly' ? 0 : sent.senml);
  const most = good() + sent.items + outsideReadings;
  if (counts.received < least || (how === 'exactly' && counts.received > most)) problems.push(`received says ${counts.received}; sent were ${least}${how === 'exactly' ? ` to ${most}` : ' or more'}`);
  if (counts.refused !== refusals.length) problems.push(`${counts.refused} refused items are counted, ${refusals.length} are listed`);
  if (refusals.some(({ reason, topic }) => reason === '' || topic === '')) problems.push('a refused entry has no reason or no topic');
  if (how === 'exactly') {
    const kept = [...keptItems(dataDir, 'hostile').values()].reduce((sum, copies) => sum + copies.length, 0);
    const stored = counts.stored - kept;
    if (stored < before || stored > good()) problems.push(`${counts.stored} items are counted as stored; kept are ${kept} hostile ones and ${before} to ${good()} good ones`);
  }
  await until('the counters to add up', async () => balanced(await itemCounts(http)), 1);
  return problems;
}
