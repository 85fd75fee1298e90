import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import type { CaseProcedure } from './case-format.js';
import { atPath } from './check-figures.js';
import type { CaseMessage, EnteredHere } from './expand-case.js';
import { caseSite, runsOf, type ServiceAddress } from './case-answers.js';
import type { GoldenCase } from './read-cases.js';

/** Items stored, duplicate or refused since the service started, from its counters. */
export async function itemsSettled(address: ServiceAddress): Promise<number> {
  const text = await (await fetch(`${address.http}/metrics`)).text();
  const counter = (name: string): number => {
    const line = text.split('\n').find((candidate) => candidate.startsWith(`seamwarden_items_${name}_total`));
    return line === undefined ? 0 : Number(line.slice(line.lastIndexOf(' ') + 1));
  };
  return counter('stored') + counter('duplicate') + counter('refused');
}

async function until(what: string, reached: () => boolean): Promise<void> {
  const deadline = Date.now() + 30_000;
  while (!reached()) {
    if (Date.now() > deadline) throw new Error(`waited 30 s in vain for ${what}`);
    await wait(50);
  }
}

/** True once the `stored` mark covers every seq from the first to the last of every boot. */
function covers(mark: unknown, messages: readonly CaseMessage[]): boolean {
  const boots = atPath(mark, 'boots');
  if (!Array.isArray(boots)) return false;
  const last = new Map<string, number>();
  for (const message of messages) if (message.kind === 'readings' && message.boot !== null && message.seq !== null) last.set(message.boot, Math.max(message.seq, last.get(message.boot) ?? 0));
  return [...last].every(([boot, seq]) =>
    boots.some((entry: unknown) => {
      const reached = atPath(entry, 'seq');
      return atPath(entry, 'boot') === boot && typeof reached === 'number' && reached >= seq;
    }),
  );
}

async function postProcedure(address: ServiceAddress, path: string, procedure: CaseProcedure): Promise<void> {
  const response = await fetch(`${address.http}${path}`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(procedure) });
  // cases may share a procedure
  if (!response.ok && response.status !== 409) throw new Error(`POST ${path} answered ${response.status}: ${await response.text()}`);
}

/** Enters a temperature, at a run as soon as there is one. */
async function enterTemperature(address: ServiceAddress, carriage: string, { of, ...body }: EnteredHere): Promise<void> {
  const deadline = Date.now() + 10_000;
  let at = of === null ? `carriages/${caseSite}/${carriage}` : null;
  while (at === null) {
    const run = (await runsOf(address, carriage))[of ?? 0];
    if (run !== undefined) at = `runs/${String(atPath(run, 'id'))}`;
    else if (Date.now() > deadline) throw new Error(`waited 10 s in vain for run ${String(of)}`);
    else await wait(50);
  }
  await send(address, 'POST', `/api/${at}/temperatures`, body);
}

async function send(address: ServiceAddress, method: string, path: string, body: unknown): Promise<void> {
  const response = await fetch(`${address.http}${path}`, { method, headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) });
  if (!response.ok) throw new Error(`${method} ${path} answered ${response.status}: ${await response.text()}`);
}

export async function makeProcedures(address: ServiceAddress, golden: GoldenCase): Promise<void> {
  for (const procedure of golden.file.procedures ?? []) await postProcedure(address, '/api/procedures', procedure);
}

/** Sends the messages of a case in order, and waits until the service has received them all. Returns the number of their items. */
export async function publishCase(address: ServiceAddress, golden: GoldenCase, carriage: string, messages: readonly CaseMessage[]): Promise<number> {
  if (golden.file.sensors !== undefined) await send(address, 'PUT', `/api/carriages/${caseSite}/${carriage}/sensors`, golden.file.sensors);
  const client = await mqtt.connectAsync(address.mqtt);
  try {
    let mark: unknown = null;
    client.on('message', (_topic, payload) => {
      mark = JSON.parse(payload.toString('utf8'));
    });
    await client.subscribeAsync(`weld/${caseSite}/${carriage}/stored`, { qos: 1 });
    let items = 0;
    let pending: Promise<unknown>[] = [];
    for (const message of messages) {
      if (message.kind !== 'readings') {
        // an assignment applies to what comes after it, so everything before it must have been acknowledged
        await Promise.all(pending);
        pending = [];
      }
      if (message.kind === 'temperature') {
        await enterTemperature(address, carriage, message.temperature);
        continue;
      }
      if (message.kind === 'revision') {
        await postProcedure(address, `/api/procedures/${message.procedure.id}/revisions`, message.procedure);
        continue;
      }
      const topic = `weld/${caseSite}/${carriage}/${message.kind}`;
      if (message.kind === 'assignment') {
        await client.publishAsync(topic, message.payload === null ? '' : JSON.stringify(message.payload), { qos: 1 });
        continue;
      }
      items += Array.isArray(message.payload) ? message.payload.length : 1;
      pending.push(client.publishAsync(topic, JSON.stringify(message.payload), { qos: 1 }));
    }
    await Promise.all(pending);
    // a lost seq leaves a gap above the mark, and without seq there is no mark: then only the PUBACKs can tell
    if (golden.file.boot !== null && golden.file.lost === undefined) await until('the stored mark', () => covers(mark, messages));
    return items;
  } finally {
    await client.endAsync();
  }
}
