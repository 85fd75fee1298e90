import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import { accountProblems } from '../ingest/accounted.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { Run } from '../../shared/api-types/run.js';
import { awaitMark, expectedMark, getAll, getJson, itemCounts, runsOf } from './ask-service.js';
import { checkKept, identityOf, keptItems } from './kept-items.js';
import type { Outcome } from './outcome.js';
import { processTime, scratchDir, startProcess } from './service-process.js';

const site = 'busy';
const every = 100;
/** ms within which an answer must come however busy it is: an operator would have given up; no measure of speed. */
const slowest = 5_000;

export interface BusyOptions {
  readonly carriages: number;
  readonly seconds: number;
}

export interface BusyOutcome extends Outcome {
  /** ms from publishing a reading to its event on the live feed, and ms that answers took. */
  readonly delays: readonly number[];
  readonly answers: readonly number[];
  /** Processor time of the service over the time in which the carriages sent; 1 is one core. */
  readonly processorShare: number;
}

/** Listens to the live feed; tells of each reading when it was first seen there. The current says which reading it was. */
async function listen(http: string, onSeen: (carriage: string, seq: number) => void, stopped: AbortSignal): Promise<void> {
  const response = await fetch(`${http}/api/live`, { signal: stopped });
  const decoder = new TextDecoder();
  let text = '';
  const reader = response.body?.getReader();
  try {
    for (let part = await reader?.read(); part?.done === false; part = await reader?.read()) {
      text += decoder.decode(part.value, { stream: true });
      const events = text.split('\n\n');
      text = events.pop() ?? '';
      for (const event of events) {
        const data = /^data: ?(.*)$/m.exec(event)?.[1];
        if (!/^event: ?carriage$/m.test(event) || data === undefined) continue;
        const { carriage, arcs } = JSON.parse(data) as Carriage;
        const current = arcs[0]?.current;
        if (current != null) onSeen(carriage, Math.round((current - 500) * 100));
      }
    }
  } catch (error) {
    if (!stopped.aborted) throw error;
  }
}

function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN;
}

const shownTimes = (values: readonly number[]): string => `p50 ${quantile(values, 0.5).toFixed(0)} ms, p99 ${quantile(values, 0.99).toFixed(0)} ms, worst ${Math.max(...values).toFixed(0)} ms`;

/** Many carriages at 10 Hz while reports, traces and lists are asked for all the time. */
export async function busyScenario({ carriages, seconds }: BusyOptions, seed: number): Promise<BusyOutcome> {
  const dir = scratchDir();
  const service = startProcess({ dataDir: dir.path });
  const problems: string[] = [];
  const stopped = new AbortController();
  try {
    const { http, mqtt: url } = await service.listening;
    const names = Array.from({ length: carriages }, (_, i) => `b${i}`);
    const publishedAt = new Map(names.map((name) => [name, [] as number[]]));
    const shownTo = new Map<string, number>();
    const delays: number[] = [];
    const listening = listen(http, (carriage, seq) => {
      const times = publishedAt.get(carriage) ?? [];
      for (let own = (shownTo.get(carriage) ?? -1) + 1; own <= seq; own += 1) delays.push(performance.now() - (times[own] ?? performance.now()));
      shownTo.set(carriage, Math.max(seq, shownTo.get(carriage) ?? -1));
    }, stopped.signal);

    const answers: number[] = [];
    const state = { sending: true };
    const ask = async (pathOf: () => Promise<string> | string): Promise<void> => {
      while (state.sending) {
        const path = await pathOf();
        const begun = performance.now();
        const response = await fetch(http + path);
        await response.text();
        const took = performance.now() - begun;
        answers.push(took);
        if (response.status !== 200) problems.push(`GET ${path} answered ${response.status}`);
        if (took > slowest) problems.push(`GET ${path} took ${took.toFixed(0)} ms`);
        await wait(20);
      }
    };
    let newest: Run[] = [];
    const some = (suffix: string) => (): string => {
      const run = newest[Math.floor(Math.random() * newest.length)];
      return run === undefined ? '/api/runs' : `/api/runs/${run.id}${suffix}`;
    };
    const asking = Promise.all([
      ask(() => '/api/carriages'),
      ask(async () => {
        newest = ((await getJson(http, '/api/runs?limit=100')) as { items: Run[] }).items;
        return '/api/runs?limit=1000&state=welding';
      }),
      ask(some('/trace?axis=time&points=1500')),
      ask(some('')),
      ask(some('/profile?bin=10')),
      ask(() => '/metrics'),
    ]);

    const acknowledged = new Map<string, string>();
    let sent = 0;
    const weld = async (name: string, index: number): Promise<void> => {
      const client = await mqtt.connectAsync(url, { clientId: name });
      const pending: Promise<unknown>[] = [];
      await wait((every * index) / carriages);
      const begun = performance.now();
      for (let seq = 0; seq * every < seconds * 1_000; seq += 1) {
        await wait(Math.max(0, begun + seq * every - performance.now()));
        const item = { boot: 'b1', seq, time: Date.now(), current: 500 + seq / 100, voltage: 30, travelSpeed: 550 };
        publishedAt.get(name)?.push(performance.now());
        sent += 1;
        pending.push(client.publishAsync(`weld/${site}/${name}/readings`, JSON.stringify(item), { qos: 1 }).then(() => acknowledged.set(identityOf(site, name, item), JSON.stringify(item))));
      }
      await Promise.all(pending);
      await client.endAsync();
    };
    const spentBefore = processTime(service.pid);
    const weldingFrom = performance.now();
    await Promise.all(names.map(weld));
    const processorShare = (processTime(service.pid) - spentBefore) / 1e3 / (performance.now() - weldingFrom);
    state.sending = false;
    await asking;
    for (const name of names) {
      const count = publishedAt.get(name)?.length ?? 0;
      await awaitMark(url, site, name, [expectedMark('b1', Array.from({ length: count }, (_, seq) => seq))]);
      const [run, ...more] = await runsOf(http, site, name);
      if (run?.arcs[0]?.samples !== count || more.length > 0) problems.push(`${name}: ${1 + more.length} runs, ${String(run?.arcs[0]?.samples)} samples instead of ${count}`);
    }
    stopped.abort();
    await listening;
    const known = new Set((await getAll<Carriage>(http, '/api/carriages')).filter((own) => own.site === site).map(({ carriage }) => carriage));
    if (known.size !== carriages) problems.push(`${known.size} carriages are listed instead of ${carriages}`);
    if (acknowledged.size !== sent) problems.push(`${acknowledged.size} of ${sent} items were acknowledged`);
    if (shownTo.size !== carriages) problems.push(`the live feed showed ${shownTo.size} carriages`);
    problems.push(...checkKept(keptItems(dir.path, site), acknowledged));
    const { stored } = await itemCounts(http);
    if (stored !== sent) problems.push(`${stored} items counted as stored, ${sent} sent`);
    const counted = `${carriages} carriages, ${sent} items in ${seconds} s; ${answers.length} answers: ${shownTimes(answers)}; published to live event: ${shownTimes(delays)}`;
    await service.kill('SIGTERM');
    problems.push(...accountProblems(dir.path));
    return { scenario: 'busy', seed, counted, problems, delays, answers, processorShare };
  } finally {
    stopped.abort();
    await service.kill('SIGTERM');
    dir.remove();
  }
}
