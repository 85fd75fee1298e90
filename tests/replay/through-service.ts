import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import { atPath, differences } from './check-figures.js';
import { caseStart, expandCase, type CaseMessage } from './expand-case.js';
import type { GoldenCase } from './read-cases.js';

export interface ServiceAddress {
  readonly http: string;
  readonly mqtt: string;
}

const site = 'replay';

async function getJson(address: ServiceAddress, path: string): Promise<unknown> {
  const response = await fetch(`${address.http}${path}`);
  if (!response.ok) throw new Error(`GET ${path} answered ${response.status}: ${await response.text()}`);
  return response.json();
}

/** Items stored, duplicate or refused since the service started, from its counters. */
async function itemsSettled(address: ServiceAddress): Promise<number> {
  const text = await (await fetch(`${address.http}/metrics`)).text();
  const counter = (name: string): number => {
    const line = text.split('\n').find((candidate) => candidate.startsWith(`seamwarden_items_${name}_total`));
    return line === undefined ? 0 : Number(line.slice(line.lastIndexOf(' ') + 1));
  };
  return counter('stored') + counter('duplicate') + counter('refused');
}

async function until(what: string, reached: () => Promise<boolean> | boolean): Promise<void> {
  const deadline = Date.now() + 30_000;
  while (!(await reached())) {
    if (Date.now() > deadline) throw new Error(`waited 30 s in vain for ${what}`);
    await wait(50);
  }
}

/** True once the `stored` mark covers every seq from the first to the last of every boot. */
function covers(mark: unknown, messages: readonly CaseMessage[]): boolean {
  const boots = atPath(mark, 'boots');
  if (!Array.isArray(boots)) return false;
  const last = new Map<string, number>();
  for (const message of messages) if (message.kind === 'readings' && message.boot !== null && message.seq !== null) last.set(message.boot, message.seq);
  return [...last].every(([boot, seq]) =>
    boots.some((entry: unknown) => {
      const reached = atPath(entry, 'seq');
      return atPath(entry, 'boot') === boot && typeof reached === 'number' && reached >= seq;
    }),
  );
}

async function publishCase(address: ServiceAddress, golden: GoldenCase, carriage: string, messages: readonly CaseMessage[]): Promise<void> {
  const client = await mqtt.connectAsync(address.mqtt);
  try {
    let mark: unknown = null;
    client.on('message', (_topic, payload) => {
      mark = JSON.parse(payload.toString('utf8'));
    });
    await client.subscribeAsync(`weld/${site}/${carriage}/stored`, { qos: 1 });
    const before = await itemsSettled(address);
    let items = 0;
    let pending: Promise<unknown>[] = [];
    for (const message of messages) {
      const topic = `weld/${site}/${carriage}/${message.kind}`;
      if (message.kind === 'assignment') {
        // it holds from just after what was received before it, so that must have been acknowledged
        await Promise.all(pending);
        pending = [];
        await client.publishAsync(topic, message.payload === null ? '' : JSON.stringify(message.payload), { qos: 1 });
        continue;
      }
      items += Array.isArray(message.payload) ? message.payload.length : 1;
      pending.push(client.publishAsync(topic, JSON.stringify(message.payload), { qos: 1 }));
    }
    await Promise.all(pending);
    // a lost seq stays a hole above the mark, and without seq there is no mark: then the counters tell
    const marked = golden.file.boot !== null && golden.file.lost === undefined;
    await until('the stored mark', async () => (marked ? covers(mark, messages) : (await itemsSettled(address)) >= before + items));
  } finally {
    await client.endAsync();
  }
}

async function makeProcedures(address: ServiceAddress, golden: GoldenCase): Promise<void> {
  for (const procedure of golden.file.procedures ?? []) {
    const response = await fetch(`${address.http}/api/procedures`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(procedure),
    });
    if (!response.ok && response.status !== 409) throw new Error(`POST /api/procedures answered ${response.status}: ${await response.text()}`);
  }
}

/** The runs of a carriage in the order in which they began. */
async function runsOf(address: ServiceAddress, carriage: string): Promise<unknown[]> {
  const list = atPath(await getJson(address, `/api/runs?site=${site}&carriage=${carriage}&limit=1000`), 'items');
  if (!Array.isArray(list)) throw new Error('/api/runs answered no items');
  const begun = (run: unknown): number => Date.parse(String(atPath(run, 'startedAt')));
  return (list as unknown[]).sort((a, b) => begun(a) - begun(b));
}

async function profileDifferences(address: ServiceAddress, golden: GoldenCase, run: unknown): Promise<string[]> {
  if (golden.expected.profile === undefined) return [];
  const profile = await getJson(address, `/api/runs/${String(atPath(run, 'id'))}/profile?bin=10`);
  const travelled = atPath(profile, 'travelled');
  return golden.expected.profile.flatMap((expected) => {
    const column = Array.isArray(travelled) ? travelled.indexOf(expected.travelled) : -1;
    const found = atPath(profile, `seamPosition[${column}]`);
    const same = typeof found === 'number' && Math.abs(found - expected.seamPosition) < 1e-6;
    return same ? [] : [`profile at ${expected.travelled} mm: expected seamPosition ${expected.seamPosition}, got ${String(found)}`];
  });
}

/** Sends a case through a running service; what its runs then differ in from what the case expects, a line each. */
export async function throughService(address: ServiceAddress, golden: GoldenCase): Promise<string[]> {
  const messages = expandCase(golden.file);
  const carriage = `${golden.name.slice(0, 50)}-${Date.now().toString(36)}`;
  await makeProcedures(address, golden);
  await publishCase(address, golden, carriage, messages);
  const found = async (): Promise<string[]> => {
    const runs = await runsOf(address, carriage);
    if (runs.length !== golden.expected.runs.length) return [`expected ${golden.expected.runs.length} runs, got ${runs.length}`];
    const figures = golden.expected.runs.flatMap((expected, i) => differences(runs[i], expected, caseStart(golden.file)).map((line) => `run ${i}: ${line}`));
    return figures.length > 0 ? figures : profileDifferences(address, golden, runs[0]);
  };
  // what is stored need not be shown in the same instant
  const deadline = Date.now() + 5_000;
  let differ = await found();
  while (differ.length > 0 && Date.now() < deadline) {
    await wait(200);
    differ = await found();
  }
  return differ;
}
