import { createReadStream, createWriteStream, statSync } from 'node:fs';
import { request } from 'node:http';
import { once } from 'node:events';
import { join } from 'node:path';
import type { Readable } from 'node:stream';
import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import { accountProblems } from '../ingest/accounted.js';
import { getJson } from './ask-service.js';
import type { Outcome } from './outcome.js';
import { residentMemory, scratchDir, startProcess } from './service-process.js';

/** MiB that the whole process may take, however long the log is: 300 MB. */
const mostMemory = 300e6 / 2 ** 20;
/** ms that 99 of 100 PUBACKs may wait for longer than the slowest without the log; one may meet with a disk or a machine that is busy. */
const mostDelay = 250;
const slowestDelay = 2_000;

/** Writes a log of one arc at 10 Hz with every column, 600 A, 30 V, 520 mm/min, until it has that many bytes. Returns the number of its lines. */
export async function writeLog(file: string, bytes: number): Promise<number> {
  const out = createWriteStream(file);
  out.write('time,current,voltage,travelSpeed,wireFeedSpeed,travel,plateTemperature\n');
  let lines = 0;
  for (let size = 0; size < bytes; ) {
    let part = '';
    for (let more = 0; more < 5_000 && size + part.length < bytes; more += 1, lines += 1) {
      part += `${(lines / 10).toFixed(1)},${(600 + 20 * Math.sin(lines)).toFixed(3)},${(30 + Math.cos(lines)).toFixed(3)},520.25,1.21,${(lines * 0.867).toFixed(2)},118.5\n`;
    }
    size += part.length;
    if (!out.write(part)) await once(out, 'drain');
  }
  out.end();
  await once(out, 'finish');
  return lines;
}

export interface Posted {
  readonly status: number;
  readonly body: { readonly runs?: readonly string[]; readonly stored?: number; readonly duplicate?: number; readonly detail?: string; readonly run?: string };
}

/** Posts a file or what is still to come; the answer may come before all of it is sent. `abort` cuts the connection. */
export function postFile(http: string, query: string, log: string | Readable, abort?: AbortSignal): Promise<Posted> {
  return new Promise((resolve, reject) => {
    const posted = request(`${http}/api/imports?${query}`, { method: 'POST', headers: { 'content-type': 'text/csv' }, ...(abort === undefined ? {} : { signal: abort }) }, (response) => {
      let text = '';
      response.setEncoding('utf8').on('data', (part: string) => (text += part));
      response.once('end', () => {
        resolve({ status: response.statusCode ?? 0, body: JSON.parse(text) as Posted['body'] });
      });
    });
    posted.once('error', reject);
    (typeof log === 'string' ? createReadStream(log) : log).pipe(posted);
  });
}

/** A log of that many MB is imported while a carriage welds at 10 Hz: measures the memory of the process, and how long its PUBACKs wait. */
export async function importScenario(megabytes: number, seed: number): Promise<Outcome> {
  const dir = scratchDir();
  const service = startProcess({ dataDir: join(dir.path, 'data') });
  const problems: string[] = [];
  try {
    const { http, mqtt: url } = await service.listening;
    const file = join(dir.path, 'log.csv');
    const lines = await writeLog(file, megabytes * 1e6);
    const client = await mqtt.connectAsync(url, { clientId: 'welds' });
    const state = { welding: true, memory: 0, waits: [] as number[] };
    const weld = async (): Promise<void> => {
      for (let seq = 0; state.welding; seq += 1) {
        const begun = performance.now();
        await client.publishAsync('weld/beside/c1/readings', JSON.stringify({ boot: 'b1', seq, time: Date.now(), current: 600, voltage: 30, travelSpeed: 520 }), { qos: 1 });
        const took = performance.now() - begun;
        state.waits.push(took);
        state.memory = Math.max(state.memory, residentMemory(service.pid));
        await wait(Math.max(0, 100 - took));
      }
    };
    const welding = weld();
    await wait(5_000);
    const alone = Math.max(...state.waits);
    state.waits = [];
    const begun = performance.now();
    const { status, body } = await postFile(http, 'carriage=beside/log&seam=L&run=1', file);
    const seconds = (performance.now() - begun) / 1e3;
    state.welding = false;
    await welding;
    await client.endAsync();
    if (status !== 200 || body.stored !== lines) problems.push(`answered ${status}, ${String(body.stored)} of ${lines} stored: ${body.detail ?? ''}`);
    // By hand: each reading applies for 0.1 s, and the last one, with nothing after it, for no time.
    const run = (await getJson(http, `/api/runs/${body.runs?.[0] ?? ''}`)) as { arcTime: number };
    if (Math.abs(run.arcTime - (lines - 1) / 10) > 1e-3) problems.push(`arc time ${run.arcTime} s, by hand ${(lines - 1) / 10} s`);
    if (state.memory > mostMemory) problems.push(`${state.memory.toFixed(0)} MiB of memory`);
    const waits = state.waits.sort((a, b) => a - b);
    const [nearly, worst] = [waits[Math.floor(0.99 * (waits.length - 1))] ?? Number.NaN, waits.at(-1) ?? Number.NaN];
    if (!(nearly <= alone + mostDelay) || !(worst <= alone + slowestDelay)) problems.push(`PUBACKs took up to ${worst.toFixed(0)} ms, 99 of 100 up to ${nearly.toFixed(0)} ms; without the log ${alone.toFixed(0)} ms`);
    const counted = `${(statSync(file).size / 1e6).toFixed(0)} MB, ${lines} lines in ${seconds.toFixed(0)} s; memory at most ${state.memory.toFixed(0)} MiB; PUBACKs 99 of 100 within ${nearly.toFixed(0)} ms, slowest ${worst.toFixed(0)} ms, before it ${alone.toFixed(0)} ms`;
    await service.kill('SIGTERM');
    problems.push(...accountProblems(join(dir.path, 'data')));
    return { scenario: 'import', seed, counted, problems };
  } finally {
    await service.kill('SIGTERM');
    dir.remove();
  }
}
