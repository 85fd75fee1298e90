import { mkdirSync } from 'node:fs';
import { constants } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { healthOf, runsOf, until } from './ask-service.js';
import { accountAtRest } from './account-at-rest.js';
import { checkItems, checkRuns, checkStore, endlessCarriages, itemsAcknowledged, judgedSite, settledRuns, type Carriage } from './endless-carriage.js';
import { failingFiles } from './failing-files.js';
import { startFlood } from './flood.js';
import { smallDisk } from './full-disk.js';
import type { Outcome } from './outcome.js';
import { freePort, residentMemory, scratchDir, startProcess, type Addresses } from './service-process.js';
import { slowSyncs } from './slow-syncs.js';

/** MiB that the service may grow by while nothing can be stored; its own bound on unacknowledged bytes is 16 MiB. */
const mostGrowth = 192;

const newestAcknowledgement = (carriages: readonly Carriage[]): number => Math.max(...carriages.map(({ sender }) => sender.acknowledgedAt()));

/** What must answer although nothing can be written. */
async function readProblems({ http }: Addresses): Promise<string[]> {
  const problems: string[] = [];
  const newest = (await runsOf(http, judgedSite, 'single-1')).at(-1);
  const id = newest?.id ?? 'none';
  for (const path of ['/api/carriages', '/api/runs?limit=1000', `/api/runs/${id}`, `/api/runs/${id}/trace?axis=time&points=500`, `/api/runs/${id}/profile?bin=10`, '/api/refused', '/api/procedures', '/metrics']) {
    const response = await fetch(http + path);
    await response.text();
    if (response.status !== 200) problems.push(`GET ${path} answered ${response.status} while nothing could be stored`);
  }
  return problems;
}

/** Fills the disk under load, waits, frees it, `rounds` times; in every second round the process is killed while it is full. */
export async function fullDisk(rounds: number, seed: number): Promise<Outcome> {
  const disk = smallDisk(96);
  const dataDir = join(disk.path, 'data');
  mkdirSync(dataDir);
  const mqttPort = await freePort();
  const state = { up: true, finishing: false };
  const carriages = endlessCarriages(seed, () => state.finishing);
  const problems: string[] = [];
  const said = new Set<string>();
  let service = startProcess({ dataDir, mqttPort });
  let pushed = 0;
  let growth = 0;
  try {
    let addresses = await service.listening;
    const sending = Promise.all(carriages.map(({ sender }) => sender.run(() => (state.up ? addresses.mqtt : null))));
    for (let round = 0; round < rounds; round += 1) {
      await wait(2_000);
      const before = residentMemory(service.pid);
      disk.fill();
      await until('health to answer 503', async () => (await healthOf(addresses.http)).status === 503, 60);
      // What is left of the log's own space is used up first; it may be a moment before really nothing goes.
      await until('acknowledgements to stop', () => Date.now() - newestAcknowledgement(carriages) > 2_000, 60);
      const stopped = newestAcknowledgement(carriages);
      const flood = startFlood(addresses.mqtt, 'flood', 6);
      let largest = 0;
      for (let k = 0; k < 50; k += 1) {
        const { status, detail } = await healthOf(addresses.http);
        if (status !== 503) problems.push(`round ${round}: health answered ${status} on a full disk: ${detail}`);
        else said.add((JSON.parse(detail) as { detail: string }).detail);
        largest = Math.max(largest, residentMemory(service.pid));
        await wait(100);
      }
      problems.push(...(await readProblems(addresses)));
      if (newestAcknowledgement(carriages) !== stopped) problems.push(`round ${round}: something was acknowledged on a full disk`);
      flood.stop();
      pushed += flood.pushed();
      growth = Math.max(growth, largest - before);
      if (round % 2 === 1) {
        state.up = false;
        await service.kill('SIGKILL');
        disk.free();
        service = startProcess({ dataDir, mqttPort });
        addresses = await service.listening;
        state.up = true;
      } else {
        disk.free();
      }
      await until('health to answer 200 by itself', async () => (await healthOf(addresses.http)).status === 200, 20);
      await until('acknowledgements to go on', () => newestAcknowledgement(carriages) > stopped, 20);
    }
    state.finishing = true;
    await sending;
    problems.push(...checkRuns(carriages, await settledRuns(addresses, carriages)));
    await service.kill('SIGTERM');
    problems.push(...checkItems(dataDir, carriages), ...(await accountAtRest(dataDir, /^account: flood\//)));
    if (growth > mostGrowth) problems.push(`memory grew by ${growth.toFixed(0)} MiB while nothing could be stored; at most ${mostGrowth}`);
    if (![...said].every((text) => text.includes('full'))) problems.push(`health did not say that the disk is full: ${[...said].join(' | ')}`);
    const counted = `${rounds} times full, ${itemsAcknowledged(carriages).size} items acknowledged, ${pushed.toFixed(0)} MiB pushed meanwhile, memory +${growth.toFixed(0)} MiB`;
    return { scenario: 'disk full', seed, counted, problems };
  } finally {
    for (const { sender } of carriages) sender.stop();
    await service.kill('SIGKILL');
    disk.remove();
  }
}

export interface FailingCounts {
  /** Each n-th write fails once, for n up to this. */
  readonly writesTo: number;
  readonly writesStep: number;
  /** As many syncs in a row are made to fail, each after one more that succeeds. */
  readonly syncs: number;
  /** How much longer every sync takes, ms: where they are slow, commits are written beside the next computation. */
  readonly slowSyncMs: number;
}

/** One write or sync fails at a time, then all of them for a while; the service has to get over each by itself. */
export async function failingStorage({ writesTo, writesStep, syncs, slowSyncMs }: FailingCounts, seed: number): Promise<Outcome> {
  const dir = scratchDir();
  const dataDir = join(dir.path, 'data');
  mkdirSync(dataDir);
  const files = failingFiles(dir.path, dataDir);
  const state = { finishing: false };
  const carriages = endlessCarriages(seed, () => state.finishing);
  const slow = slowSyncs(dir.path, slowSyncMs);
  // Of two layers the first calls the second.
  const service = startProcess({ dataDir, env: { ...files.env, ...slow, LD_PRELOAD: `${slow.LD_PRELOAD}:${files.env['LD_PRELOAD'] ?? ''}` } });
  const problems: string[] = [];
  const said = new Set<string>();
  let faults = 0;
  try {
    const addresses = await service.listening;
    const sending = Promise.all(carriages.map(({ sender }) => sender.run(() => addresses.mqtt)));
    const getOver = async (what: string): Promise<void> => {
      const since = Date.now();
      await until(`acknowledgements and health after ${what}`, async () => newestAcknowledgement(carriages) > since && (await healthOf(addresses.http)).status === 200, 20);
    };
    const failOnce = async (kind: 'write' | 'sync', after: number): Promise<void> => {
      const before = files.failed();
      files.arm(kind, after, constants.errno.EIO);
      await until(`${kind} ${after + 1} to fail`, () => files.failed() > before, 20);
      faults += 1;
      await getOver(`a failed ${kind}`);
    };
    await getOver('the start');
    for (let nth = writesStep; nth <= writesTo; nth += writesStep) await failOnce('write', nth - 1);
    for (let nth = 0; nth < syncs; nth += 1) await failOnce('sync', nth);
    for (const code of [constants.errno.EIO, constants.errno.EROFS, constants.errno.ENOSPC]) {
      files.arm('write', 0, code, true);
      await until('health to answer 503', async () => (await healthOf(addresses.http)).status === 503);
      // An acknowledgement that was on its way when the writes began to fail does not belong to them.
      await until('acknowledgements to stop', () => Date.now() - newestAcknowledgement(carriages) > 1_000);
      const stopped = newestAcknowledgement(carriages);
      await wait(2_500);
      const { status, detail } = await healthOf(addresses.http);
      if (status === 503) said.add((JSON.parse(detail) as { detail: string }).detail);
      else problems.push(`health answered ${status} while every write fails with ${code}`);
      if (newestAcknowledgement(carriages) > stopped) problems.push(`something was acknowledged while every write fails with ${code}`);
      problems.push(...(await readProblems(addresses)));
      files.heal();
      faults += 1;
      await getOver(`writes that failed with ${code}`);
    }
    state.finishing = true;
    await sending;
    problems.push(...checkRuns(carriages, await settledRuns(addresses, carriages)), ...checkStore(dataDir, carriages));
    const counted = `${faults} faults got over (${files.failed()} calls failed), ${itemsAcknowledged(carriages).size} items acknowledged; health said: ${[...said].join(' | ')}`;
    return { scenario: slowSyncMs === 0 ? 'failing writes and syncs' : 'failing writes and syncs, slow syncs', seed, counted, problems };
  } finally {
    for (const { sender } of carriages) sender.stop();
    files.heal();
    await service.kill('SIGKILL');
    files.close();
    dir.remove();
  }
}
