import { spawn, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import { accountProblems } from '../ingest/accounted.js';
import { seededRandom } from '../model/seeded-random.js';
import { until } from './ask-service.js';
import type { Outcome } from './outcome.js';
import { scratchDir, startProcess } from './service-process.js';
import { judgeTrace, readTrace } from './sync-trace.js';

/** Longer than a page of the database (16 KiB), so that a message's own bytes are found in what is written. */
const stringLimit = 70_000;
const traced = 'read,recvfrom,fsync,fdatasync,pwrite64,write,writev,sendto,sendmsg';

/** Why calls cannot be traced on this machine, or null where they can. */
export function noStrace(): string | null {
  const found = spawnSync('strace', ['-o', '/dev/null', 'true']);
  if (found.error !== undefined) return 'strace is not installed';
  return found.status === 0 ? null : `strace may not trace here: ${found.stderr.toString('utf8').trim()}`;
}

/** Sends messages one at a time and in bursts to a traced service, and judges every PUBACK. */
export async function syncScenario(messages: number, seed: number): Promise<Outcome> {
  const random = seededRandom(seed);
  const dir = scratchDir();
  const service = startProcess({ dataDir: dir.path });
  const output = join(dir.path, 'trace.txt');
  try {
    const { mqtt: url } = await service.listening;
    const tracer = spawn('strace', ['-f', '-yy', '-xx', '-s', String(stringLimit), '-e', `trace=${traced}`, '-o', output, '-p', String(service.pid)], { stdio: ['ignore', 'ignore', 'pipe'] });
    let said = '';
    tracer.stderr.on('data', (chunk: Buffer) => (said += chunk.toString('utf8')));
    const detached = new Promise((resolve) => tracer.once('close', resolve));
    await until('strace to attach', () => said.includes('attached'), 10, () => said);
    const client = await mqtt.connectAsync(url, { clientId: 'traced' });
    let seq = 0;
    const publish = async (): Promise<void> => {
      const reading = { boot: 'b1', seq: (seq += 1), time: Date.UTC(2026, 10, 2) + seq * 100, current: 600 + random.next(), voltage: 30 + random.next(), travelSpeed: 550 };
      await client.publishAsync(`weld/sync/c${random.whole(1, 3)}/readings`, JSON.stringify(reading), { qos: 1 });
    };
    while (seq < messages) {
      if (random.chance(0.5)) for (let k = 0; k < 5; k += 1) await publish();
      else await Promise.all(Array.from({ length: random.whole(2, 60) }, publish));
      await wait(random.whole(0, 30));
    }
    await client.endAsync();
    await wait(200);
    tracer.kill('SIGINT');
    await detached;
    const { acknowledged, syncs, problems } = judgeTrace(readTrace(readFileSync(output, 'utf8')), Number(new URL(url).port));
    const missing = acknowledged === seq ? [] : [`${seq} messages were acknowledged, the trace shows ${acknowledged} PUBACKs`];
    await service.kill('SIGTERM');
    return { scenario: 'sync before PUBACK', seed, counted: `${acknowledged} PUBACKs judged against ${syncs} syncs`, problems: [...missing, ...problems, ...accountProblems(dir.path)] };
  } finally {
    await service.kill('SIGTERM');
    dir.remove();
  }
}
