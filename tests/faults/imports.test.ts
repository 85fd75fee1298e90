import { readdirSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { PassThrough } from 'node:stream';
import { setTimeout as wait } from 'node:timers/promises';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { expectAccounted } from '../ingest/accounted.js';
import type { Run } from '../../shared/api-types/run.js';
import { isFull } from '../counts.js';
import { getAll, getJson, until } from './ask-service.js';
import { postFile, writeLog } from './import-scenario.js';
import { scratchDir, startProcess, type ServiceProcess } from './service-process.js';

let dir: ReturnType<typeof scratchDir>;
let service: ServiceProcess;
let http: string;

async function start(): Promise<void> {
  service = startProcess({ dataDir: join(dir.path, 'data') });
  ({ http } = await service.listening);
}

beforeEach(async () => {
  dir = scratchDir();
  await start();
});

afterEach(async () => {
  await service.kill('SIGTERM');
  try {
    expectAccounted(join(dir.path, 'data'));
  } finally {
    dir.remove();
  }
});

function file(name: string, text: string): string {
  const path = join(dir.path, name);
  writeFileSync(path, text);
  return path;
}

/** 600 A, 30 V for `count` tenths of a second, then zeros for 5 s: by hand `count` / 10 s of arc time. */
function weld(count: number): string {
  const lines = Array.from({ length: count + 50 }, (_, n) => `${n / 10},${n < count ? 600 : 0},${n < count ? 30 : 0},${n < count ? 600 : 0}`);
  return `time,current,voltage,travelSpeed\n${lines.join('\n')}\n`;
}

const runs = (): Promise<Run[]> => getAll<Run>(http, '/api/runs');
/** What is kept of a run, except for its place in the list. */
const whole = async (): Promise<string> => JSON.stringify(await runs());

it('refuses the same log under another assignment, names the run that holds it and leaves it as it is', async () => {
  const log = file('log.csv', weld(1_776));
  const start = 'start=2026-11-25T06:00:00Z';
  const first = await postFile(http, `carriage=h/c1&seam=SHELL-12/L1&run=1&${start}`, log);
  expect([first.status, first.body.stored]).toEqual([200, 1_826]);
  const before = await whole();
  const id = first.body.runs?.[0] ?? '';
  const again: readonly (readonly [string, number])[] = [
    [`seam=SHELL-12/L1&run=3&${start}`, 409],
    ['seam=SHELL-12/L1&run=3', 409],
    ['seam=SHELL-12/L1&run=3&start=2026-11-25T07:00:00Z', 409],
    [`seam=SHELL-12/L1&run=3&${start}`, 409],
    [`seam=OTHER&run=1&${start}`, 409],
    [`seam=SHELL-12/L1&run=1&procedure=P&${start}`, 409],
    // The stored times cannot be changed either.
    ['seam=SHELL-12/L1&run=1&start=2026-11-25T07:00:00Z', 409],
    [`seam=SHELL-12/L1&run=1&${start}`, 200],
    ['seam=SHELL-12/L1&run=1', 200],
    // An entry that names no job contradicts none.
    [start, 200],
  ];
  for (const [query, status] of again) {
    const answer = await postFile(http, `carriage=h/c1&${query}`, log);
    expect(answer.status, query).toBe(status);
    if (status === 409) {
      expect(answer.body, query).toMatchObject({ run: id, seam: 'SHELL-12/L1', runNumber: 1 });
      expect(answer.body.detail).toMatch(/^This log is stored already as run 1 of seam SHELL-12\/L1 \(/);
    } else {
      expect(answer.body, query).toMatchObject({ runs: [id], stored: 0, duplicate: 1_826 });
    }
    expect(await whole(), query).toBe(before);
  }
  const refused = await postFile(http, `carriage=h/c1&seam=SHELL-12/L1&run=3&${start}`, log);
  expect(refused.body.detail).toContain(`differs in run. Nothing was changed. Correct the assignment of that run instead: on its page, or with PUT /api/runs/${id}/assignment.`);
  expect((await runs())[0]?.arcTime).toBeCloseTo(177.6, 6);

  // The way that it names works, and afterwards both the first and the corrected assignment are those of the run.
  const put = await fetch(`${http}/api/runs/${id}/assignment`, { method: 'PUT', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ seam: 'SHELL-12/L1', run: 3 }) });
  expect(put.status).toBeLessThan(300);
  const corrected = await whole();
  expect((await runs()).map(({ run, arcTime, version }) => [run, arcTime, version])).toEqual([[3, 177.6, 2]]);
  for (const run of [1, 3]) expect((await postFile(http, `carriage=h/c1&seam=SHELL-12/L1&run=${run}&${start}`, log)).status).toBe(200);
  expect((await postFile(http, `carriage=h/c1&seam=SHELL-12/L1&run=2&${start}`, log)).body).toMatchObject({ run: id, runNumber: 3 });
  // Over a restart as well.
  await service.kill('SIGKILL');
  await startAgain();
  expect((await postFile(http, `carriage=h/c1&seam=SHELL-12/L1&run=2&${start}`, log)).status).toBe(409);
  expect(await whole()).toBe(corrected);
});

const startAgain = start;

it('stores a log that overlaps with a stored one beside it, and says so', async () => {
  const from = 'start=2026-11-25T06:00:00Z';
  const first = await postFile(http, `carriage=h/c1&seam=S&run=1&${from}`, file('short.csv', weld(300)));
  const before = await getJson(http, `/api/runs/${first.body.runs?.[0] ?? ''}`);
  const longer = await postFile(http, `carriage=h/c1&seam=S&run=2&${from}`, file('long.csv', weld(600)));
  expect(longer.body).toMatchObject({ stored: 650, also: [{ reason: 'sameTime', run: first.body.runs?.[0], seam: 'S', runNumber: 1 }] });
  const elsewhere = await postFile(http, `carriage=h/c2&seam=S&run=3&${from}`, file('long.csv', weld(600)));
  expect(elsewhere.body).toMatchObject({ stored: 650, also: [{ reason: 'sameLog', run: longer.body.runs?.[0], carriage: 'c1' }] });
  expect(await getJson(http, `/api/runs/${first.body.runs?.[0] ?? ''}`)).toEqual(before);
});

it('leaves nothing of a log whose sender goes away, or that a kill cuts off, and accepts it again', async () => {
  const log = join(dir.path, 'large.csv');
  const lines = await writeLog(log, isFull ? 8e6 : 4e6);
  const parts = (): string[] => readdirSync(join(dir.path, 'data')).filter((name) => name.endsWith('.part'));
  /** All of it has come; it is read and stored from now on, which takes seconds. */
  const isBeingTaken = (): boolean => parts().some((name) => statSync(join(dir.path, 'data', name)).size === statSync(log).size);
  const cut = new AbortController();
  const gone = postFile(http, 'carriage=h/c1&seam=S&run=1', log, cut.signal).catch((error: unknown) => String(error));
  await until('the log to be taken', isBeingTaken);
  await wait(500);
  cut.abort();
  expect(await gone).toMatch(/abort/i);
  await until('the file to be gone', () => parts().length === 0);
  expect(await runs()).toEqual([]);

  const killed = postFile(http, 'carriage=h/c1&seam=S&run=1', log).catch((error: unknown) => String(error));
  await until('the log to be taken', isBeingTaken);
  await wait(1_000);
  await service.kill('SIGKILL');
  expect(await killed).toMatch(/ECONNRESET|hang up/);
  await startAgain();
  expect(parts()).toEqual([]);
  expect(await runs()).toEqual([]);
  const whole = await postFile(http, 'carriage=h/c1&seam=S&run=2', log);
  expect(whole.body).toMatchObject({ stored: lines, duplicate: 0 });
  expect((await runs()).map(({ run, arcTime }) => [run, arcTime])).toEqual([[2, expect.closeTo((lines - 1) / 10, 3)]]);
});

it('accepts one log at a time and asks the next one to come again', async () => {
  const log = new PassThrough();
  const first = postFile(http, 'carriage=h/c1&seam=S&run=1', log);
  log.write(weld(200));
  await until('the first log to be on its way', () => readdirSync(join(dir.path, 'data')).some((name) => name.endsWith('.part')));
  const second = await postFile(http, 'carriage=h/c2&seam=S&run=2', file('small.csv', weld(100)));
  expect([second.status, second.body.detail]).toEqual([503, 'another log is being imported. Only one is imported at a time: try again when it is done.']);
  log.end();
  expect((await first).status).toBe(200);
  expect((await postFile(http, 'carriage=h/c2&seam=S&run=2', file('small.csv', weld(100)))).status).toBe(200);
});

it('refuses a flood of blank lines, an endless body and one that announces too much, without taking memory for it', async () => {
  const blank = file('blank.csv', `time,current,voltage\n0,600,30\n${'\n'.repeat(12_000_000)}`);
  expect((await postFile(http, 'carriage=h/c1', blank)).body.detail).toBe('the log has too many lines: 10000000 at most, blank ones too');
  const huge = await fetch(`${http}/api/imports?carriage=c1`, { method: 'POST', headers: { 'content-type': 'text/csv', 'content-encoding': 'gzip' }, body: 'no gzip' });
  expect([huge.status, ((await huge.json()) as { detail: string }).detail]).toEqual([400, 'content-encoding: the body is not gzip: incorrect header check.']);
  expect(await runs()).toEqual([]);
});
