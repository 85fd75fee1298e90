import { mkdtempSync, rmSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import mqtt, { type MqttClient } from 'mqtt';
import { openSqlite } from '../../shared/sqlite/sqlite-file.js';
import { outsideBroker } from '../../services/ingest/mqtt/outside-broker.js';
import { startMosquitto } from '../ingest/mqtt/start-mosquitto.js';
import { until } from '../ingest/mqtt/until.js';

/*
 * Ways to acknowledge to an outside broker no earlier than the commit: `npx tsx tests/bench/puback-ways.ts [messages] [rounds]`. Each drains the same backlog
 * of a session at a Mosquitto on this machine into SQLite, synced at each commit, and nothing else is computed. Rounds
 * are interleaved; the last line of each way is its median. CPU is this process's alone.
 */

const count = Number(process.argv[2] ?? 4_000);
const rounds = Number(process.argv[3] ?? 3);
const topic = 'weld/bench/c1/readings';
const payload = JSON.stringify({ boot: 'b7f1', seq: 10412, time: 1795590012400, arc: 1, current: 612.4, voltage: 31.2, travelSpeed: 520, wireFeedSpeed: 1.21 });
/** As the service commits: that many ms after the first waiting message, or when that many wait. */
const commitAfterMs = 5;
const commitAt = 2_000;

interface Store {
  put(bytes: Uint8Array): void;
  commit(): void;
  rows(): number;
}

interface Way {
  readonly name: string;
  /** Drains the session into the store until `count` messages are committed; answers how many commits that took. */
  drain(url: string, clientId: string, store: Store): Promise<number>;
}

/** Calls back once a commit holds what was put before. */
function timedCommits(store: Store): { put(bytes: Uint8Array, done: () => void): void; commits(): number } {
  let waiting: (() => void)[] = [];
  let timer: NodeJS.Timeout | null = null;
  let commits = 0;
  const commit = (): void => {
    if (timer !== null) clearTimeout(timer);
    timer = null;
    store.commit();
    commits += 1;
    const due = waiting;
    waiting = [];
    for (const done of due) done();
  };
  return {
    put(bytes, done) {
      store.put(bytes);
      waiting.push(done);
      if (waiting.length >= commitAt) commit();
      else timer ??= setTimeout(commit, commitAfterMs);
    },
    commits: () => commits,
  };
}

function plainClient(url: string, clientId: string, handle: MqttClient['handleMessage']): MqttClient {
  const client = mqtt.connect(url, { clientId, clean: false, reconnectPeriod: 0 });
  client.handleMessage = handle;
  return client;
}

const ways: readonly Way[] = [
  {
    name: 'a commit for each message, in handleMessage',
    async drain(url, clientId, store) {
      let taken = 0;
      const client = plainClient(url, clientId, (packet, next) => {
        store.put(Buffer.from(packet.payload));
        store.commit();
        taken += 1;
        next();
      });
      await until(() => taken === count, 'all messages', 600_000);
      await client.endAsync();
      return taken;
    },
  },
  {
    name: 'a commit by timer, its callback held in handleMessage',
    async drain(url, clientId, store) {
      const timed = timedCommits(store);
      let taken = 0;
      const client = plainClient(url, clientId, (packet, next) => {
        timed.put(Buffer.from(packet.payload), () => {
          taken += 1;
          next();
        });
      });
      await until(() => taken === count, 'all messages', 600_000);
      await client.endAsync();
      return timed.commits();
    },
  },
  {
    name: 'PUBACKs held at the socket until the commit (what is built)',
    async drain(url, clientId, store) {
      const timed = timedCommits(store);
      let taken = 0;
      const source = outsideBroker({ url, clientId });
      await source.start((message) => {
        timed.put(message.payload, () => {
          message.acknowledge();
          taken += 1;
        });
      });
      await until(() => taken === count, 'all messages', 600_000);
      await source.stop();
      return timed.commits();
    },
  },
  {
    name: 'for comparison: acknowledged unseen, nothing stored',
    async drain(url, clientId) {
      let taken = 0;
      const client = plainClient(url, clientId, (_packet, next) => {
        taken += 1;
        next();
      });
      await until(() => taken === count, 'all messages', 600_000);
      await client.endAsync();
      return 0;
    },
  },
];

async function measure(way: Way, configuration: readonly string[]): Promise<{ rate: number; cpu: number; group: number }> {
  const broker = await startMosquitto(['log_type none', ...configuration]);
  const folder = mkdtempSync(join(tmpdir(), 'puback-ways-'));
  const db = openSqlite(join(folder, 'store.db'));
  db.pragma('journal_mode = WAL');
  db.pragma('synchronous = FULL');
  db.exec('create table kept (id integer primary key, payload blob)');
  const insert = db.prepare('insert into kept (payload) values (?)');
  const store: Store = {
    put(bytes) {
      if (!db.isTransaction) db.exec('begin');
      insert.run(bytes);
    },
    commit() {
      if (db.isTransaction) db.exec('commit');
    },
    rows: () => db.prepare<[], { n: number }>('select count(*) as n from kept').get()?.n ?? 0,
  };
  try {
    const session = await mqtt.connectAsync(broker.url, { clientId: 'bench', clean: false });
    await session.subscribeAsync('weld/+/+/+', { qos: 1 });
    await session.endAsync();
    const sender = await mqtt.connectAsync(broker.url);
    for (let sent = 0; sent < count; sent += 500) {
      await Promise.all(Array.from({ length: Math.min(500, count - sent) }, () => sender.publishAsync(topic, payload, { qos: 1 })));
    }
    await sender.endAsync();
    const from = process.cpuUsage();
    const begun = performance.now();
    const commits = await way.drain(broker.url, 'bench', store);
    const seconds = (performance.now() - begun) / 1e3;
    const { user, system } = process.cpuUsage(from);
    if (commits > 0 && store.rows() !== count) throw new Error(`${way.name}: ${store.rows()} of ${count} messages are stored`);
    return { rate: count / seconds, cpu: (user + system) / count, group: commits === 0 ? 0 : count / commits };
  } finally {
    db.close();
    rmSync(folder, { recursive: true });
    await broker.stop();
  }
}

const middle = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;

console.log(`Node ${process.version}, ${cpus()[0]?.model ?? 'unknown processor'}, ${cpus().length} cores, ${count} messages of ${payload.length} bytes, ${rounds} rounds`);
for (const [named, configuration] of [['max_inflight_messages 0 (no limit)', []], ['max_inflight_messages 20 (its default)', ['max_inflight_messages 20']]] as const) {
  console.log(`\nMosquitto with ${named}`);
  console.log(`${''.padEnd(62)}${'messages/s'.padStart(12)}${'least'.padStart(9)}${'most'.padStart(9)}${'µs CPU'.padStart(9)}${'a commit'.padStart(10)}`);
  const measured = ways.map((way) => ({ way, results: [] as Awaited<ReturnType<typeof measure>>[] }));
  for (let round = 0; round < rounds; round += 1) for (const { way, results } of measured) results.push(await measure(way, configuration));
  for (const { way, results } of measured) {
    const rates = results.map(({ rate }) => rate);
    const cells = [middle(rates), Math.min(...rates), Math.max(...rates), middle(results.map(({ cpu }) => cpu)), middle(results.map(({ group }) => group))];
    console.log(way.name.padEnd(62) + cells.map((value, at) => value.toFixed(at === 3 ? 1 : 0).padStart([12, 9, 9, 9, 10][at] ?? 9)).join(''));
  }
}
