import { cpSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import mqtt, { type MqttClient } from 'mqtt';
import { accountProblems } from '../ingest/accounted.js';
import { seededRandom } from '../model/seeded-random.js';
import { healthOf, runsOf, until } from './ask-service.js';
import type { Outcome } from './outcome.js';
import { scratchDir, startProcess } from './service-process.js';

const ways = ['folder deleted', 'file deleted', 'folder replaced by a copy', 'file replaced by a copy'] as const;
const start = Date.UTC(2026, 10, 2, 12);
const reading = (seq: number): string => JSON.stringify({ boot: 'b1', seq, time: start + seq * 100, current: 600, voltage: 30, travelSpeed: 550 });

/** Whether a message is acknowledged within that many ms. */
async function isAcknowledged(client: MqttClient, seq: number, within: number): Promise<boolean> {
  const sent = client.publishAsync('weld/gone/c1/readings', reading(seq), { qos: 1 }).then(() => true, () => false);
  return Promise.race([sent, new Promise<boolean>((resolve) => setTimeout(resolve, within, false))]);
}

/** The folder or the file is removed under a service that stores: it acknowledges nothing that is not stored, and continues after a start. */
async function takenAway(seed: number): Promise<string[]> {
  const random = seededRandom(seed);
  const way = random.pick(ways);
  const dir = scratchDir();
  const data = join(dir.path, 'data');
  const problems: string[] = [];
  const env = { SEAMWARDEN_DATA_DIR: data };
  const service = startProcess({ dataDir: data, env });
  try {
    const { http, mqtt: url } = await service.listening;
    const client = await mqtt.connectAsync(url, { clientId: 'gone', reconnectPeriod: 0 });
    client.on('error', () => undefined);
    const before = random.whole(1, 60);
    for (let seq = 0; seq < before; seq += 1) if (!(await isAcknowledged(client, seq, 20_000))) problems.push(`seq ${seq} was not acknowledged by a service that stores`);
    const copy = join(dir.path, 'copy');
    cpSync(data, copy, { recursive: true });
    if (way === 'folder deleted') rmSync(data, { recursive: true });
    if (way === 'file deleted') rmSync(join(data, 'seamwarden.db'));
    if (way === 'folder replaced by a copy') {
      renameSync(data, join(dir.path, 'moved'));
      renameSync(copy, data);
    }
    if (way === 'file replaced by a copy') renameSync(join(copy, 'seamwarden.db'), join(data, 'seamwarden.db'));
    if (await isAcknowledged(client, before, 1_500)) problems.push('a reading was acknowledged though its store is gone');
    await until('health to say what is wrong', async () => {
      const { status, detail } = await healthOf(http);
      return status === 503 && /seamwarden\.db(-wal)? is (gone|another file)/.test(detail);
    }).catch((error: unknown) => problems.push(error instanceof Error ? error.message : String(error)));
    client.end(true);
    await service.kill(random.pick(['SIGTERM', 'SIGKILL']));
    const again = startProcess({ dataDir: data, env });
    const addresses = await again.listening;
    const other = await mqtt.connectAsync(addresses.mqtt, { clientId: 'gone-again' });
    for (let seq = 0; seq <= before; seq += 1) if (!(await isAcknowledged(other, seq, 20_000))) problems.push(`seq ${seq} was not acknowledged after the start`);
    await until('the run', async () => (before < 5 || (await runsOf(addresses.http, 'gone', 'c1')).length > 0));
    await other.endAsync();
    await again.kill('SIGTERM');
    problems.push(...accountProblems(data));
  } finally {
    await service.kill('SIGKILL');
    dir.remove();
  }
  return problems.map((line) => `SEED=${seed}, ${way}: ${line}`);
}

export async function storeGone(count: number, seed: number): Promise<Outcome> {
  const problems: string[] = [];
  for (let at = 0; at < count; at += 1) problems.push(...(await takenAway(seed + at)));
  return { scenario: 'store gone', seed, counted: `${count} folders and files taken away`, problems };
}
