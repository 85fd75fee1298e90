import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync } from 'node:zlib';
import mqtt from 'mqtt';
import { openSqlite } from '../../../shared/sqlite/sqlite-file.js';
import type { CaseFile } from '../../replay/case-format.js';
import { caseStart, expandCase } from '../../replay/expand-case.js';
import { caseSite, type ServiceAddress } from '../../replay/case-answers.js';
import { makeProcedures, publishCase } from '../../replay/publish-case.js';
import { readCases } from '../../replay/read-cases.js';
import type { GoldenCase } from '../../replay/read-cases.js';
import { lateCase, openCase } from './store-cases.js';
import { answersOf } from './stored-answers.js';

/*
 * Has an earlier program, built, make the store of this folder, and keeps what that program answers of it. README.md says how it is called.
 */

const folder = fileURLToPath(new URL('./', import.meta.url));
const program = process.argv[2];
if (program === undefined) throw new Error('name the built program: dist/services/cli/seamwarden.js of an earlier commit');

/** What is sent to the end: a hole, two arcs whose limits are left, readings that come when the run is finished, zones of a procedure. */
const finished = ['03-data-gap', '27-zones-of-the-procedure', '70-heat-input-of-two-arcs', '77-late-after-the-end'];

interface Started extends ServiceAddress {
  readonly child: ChildProcess;
}

async function start(directory: string, lateFor: string): Promise<Started> {
  const child = spawn(process.execPath, [program ?? '', 'start'], {
    env: { ...process.env, SEAMWARDEN_DATA_DIR: directory, SEAMWARDEN_HTTP_PORT: '0', SEAMWARDEN_MQTT_PORT: '0', SEAMWARDEN_LATE_FOR: lateFor },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  return await new Promise((resolve) => {
    child.stdout.on('data', (chunk: Buffer) => {
      const line = /listening http=(http:\/\/\S+?) mqtt=(mqtt:\/\/[^\s"]+)/.exec(chunk.toString('utf8'));
      if (line?.[1] !== undefined && line[2] !== undefined) resolve({ child, http: line[1], mqtt: line[2] });
    });
  });
}

async function end({ child }: Started, signal: 'SIGTERM' | 'SIGKILL'): Promise<void> {
  const closed = new Promise((resolve) => child.once('close', resolve));
  child.kill(signal);
  await closed;
}

async function play(address: ServiceAddress, name: string, file: CaseFile): Promise<void> {
  const golden: GoldenCase = { name, file, expected: { runs: [], alarms: null } };
  await makeProcedures(address, golden);
  await publishCase(address, golden, name, expandCase(file));
}

async function publish(address: ServiceAddress, topic: string, payload: string): Promise<void> {
  const client = await mqtt.connectAsync(address.mqtt);
  await client.publishAsync(topic, payload, { qos: 1 });
  await client.endAsync();
}

const directory = mkdtempSync(join(tmpdir(), 'seamwarden-before-'));
const first = await start(directory, '900');
for (const golden of readCases().filter(({ name }) => finished.includes(name))) await play(first, golden.name, golden.file);
await play(first, 'late', lateCase);
await wait(3_000);
await end(first, 'SIGTERM');

// From here on a run is decided as soon as it is over, so that what comes for it goes on its list of late items.
const second = await start(directory, '1');
await wait(2_000);
await publish(second, `weld/${caseSite}/late/readings`, JSON.stringify({ boot: 'b1', seq: 100, time: caseStart(lateCase) + 10_000, current: 600, voltage: 30, travelSpeed: 600 }));
await publish(second, `weld/${caseSite}/open/readings`, '{"boot":"b1","seq":0,"time":"half past six","current":600,"voltage":30}');
await play(second, 'open', openCase);
await wait(3_000);
const answers = await answersOf(second.http);
await end(second, 'SIGKILL');

const whole = join(directory, 'whole.db');
const db = openSqlite(join(directory, 'seamwarden.db'));
db.exec(`VACUUM INTO '${whole}'`);
db.close();
writeFileSync(join(folder, 'seamwarden.db.br'), brotliCompressSync(readFileSync(whole)));
writeFileSync(join(folder, 'answers.json'), `${JSON.stringify(answers, null, 1)}\n`);
rmSync(directory, { recursive: true });
