import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import type { LateItem, Refused } from '../../shared/api-types/entries.js';
import type { Sensors } from '../../shared/weld/procedure/sensors.js';
import type { Run } from '../../shared/api-types/run.js';

/** On a connection of its own: while a scenario looks through a store nothing is read here, and the service closes what idles. */
export function ask(url: string): Promise<Response> {
  return fetch(url, { headers: { connection: 'close' } });
}

export async function getJson(http: string, path: string): Promise<unknown> {
  const response = await ask(`${http}${path}`);
  if (!response.ok) throw new Error(`GET ${path} answered ${response.status}: ${await response.text()}`);
  return response.json();
}

/** Declares the sensors of a carriage, which need not have been seen; nothing where none are given. */
export async function declareSensors(http: string, site: string, carriage: string, sensors: Sensors | null): Promise<void> {
  if (sensors === null) return;
  const path = `/api/carriages/${site}/${carriage}/sensors`;
  const response = await fetch(http + path, { method: 'PUT', headers: { 'content-type': 'application/json', connection: 'close' }, body: JSON.stringify(sensors) });
  if (!response.ok) throw new Error(`PUT ${path} answered ${response.status}: ${await response.text()}`);
}

/** Every entry of a list, page by page. */
export async function getAll<T>(http: string, path: string): Promise<T[]> {
  const all: T[] = [];
  let cursor: string | null = null;
  do {
    const more = `${path.includes('?') ? '&' : '?'}limit=1000${cursor === null ? '' : `&cursor=${encodeURIComponent(cursor)}`}`;
    const page = (await getJson(http, path + more)) as { items: T[]; next: string | null };
    all.push(...page.items);
    cursor = page.next;
  } while (cursor !== null);
  return all;
}

/** The runs of a carriage in the order in which they began. */
export async function runsOf(http: string, site: string, carriage: string): Promise<Run[]> {
  const runs = await getAll<Run>(http, `/api/runs?site=${site}&carriage=${carriage}`);
  return runs.sort((a, b) => a.startedAt.localeCompare(b.startedAt) || (a.endedAt ?? '').localeCompare(b.endedAt ?? ''));
}

export function refusedEntries(http: string): Promise<Refused[]> {
  return getAll<Refused>(http, '/api/refused');
}

export function lateItems(http: string, run: string): Promise<LateItem[]> {
  return getAll<LateItem>(http, `/api/runs/${run}/late`);
}

export interface ItemCounts {
  readonly received: number;
  readonly stored: number;
  readonly duplicate: number;
  readonly refused: number;
}

/** The item counters, read out of the metrics text. */
export async function itemCounts(http: string): Promise<ItemCounts> {
  const text = await (await ask(`${http}/metrics`)).text();
  const read = (name: string): number => {
    const line = new RegExp(`^seamwarden_items_${name}_total (\\S+)$`, 'm').exec(text);
    if (line?.[1] === undefined) throw new Error(`/metrics does not have seamwarden_items_${name}_total`);
    return Number(line[1]);
  };
  return { received: read('received'), stored: read('stored'), duplicate: read('duplicate'), refused: read('refused') };
}

export async function healthOf(http: string): Promise<{ readonly status: number; readonly detail: string }> {
  const response = await ask(`${http}/api/health`);
  return { status: response.status, detail: await response.text() };
}

/** One boot in the `stored` topic. */
export interface StoredBoot {
  readonly boot: string;
  readonly first: number;
  readonly seq: number;
  readonly missing: readonly (readonly [number, number])[];
}

/** What the `stored` topic must say of a boot of which these seqs were sent. */
export function expectedMark(boot: string, seqs: Iterable<number>): StoredBoot {
  const sorted = [...new Set(seqs)].sort((a, b) => a - b);
  const first = sorted[0] ?? -1;
  let seq = first;
  const missing: [number, number][] = [];
  let before = first;
  for (const own of sorted) {
    if (own > before + 1) missing.push([before + 1, own - 1]);
    if (missing.length === 0) seq = own;
    before = own;
  }
  return { boot, first, seq, missing: missing.slice(0, 32) };
}

/** Waits until the retained mark of a carriage says this; throws with what it said last. */
export async function awaitMark(url: string, site: string, carriage: string, expected: readonly StoredBoot[], seconds = 30): Promise<void> {
  const client = await mqtt.connectAsync(url, { clientId: `mark-${carriage}-${Math.random().toString(36).slice(2)}` });
  const sorted = (boots: readonly StoredBoot[]): string =>
    JSON.stringify([...boots].sort((a, b) => a.boot.localeCompare(b.boot)).map(({ boot, first, seq, missing }) => [boot, first, seq, missing]));
  let said = '(nothing)';
  client.on('message', (_topic, payload) => {
    said = sorted((JSON.parse(payload.toString('utf8')) as { boots: StoredBoot[] }).boots);
  });
  try {
    await client.subscribeAsync(`weld/${site}/${carriage}/stored`, { qos: 1 });
    await until(`the stored mark of ${carriage} to be ${sorted(expected).slice(0, 400)}`, () => said === sorted(expected), seconds, () => said.slice(0, 400));
  } finally {
    await client.endAsync(true);
  }
}

/** Waits for something to come true; throws with its name, and what was seen last. */
export async function until(what: string, holds: () => boolean | Promise<boolean>, seconds = 30, seen: () => string = () => ''): Promise<void> {
  const deadline = Date.now() + seconds * 1000;
  while (!(await holds())) {
    if (Date.now() > deadline) throw new Error(`waited ${seconds} s in vain for ${what}; last: ${seen()}`);
    await wait(30);
  }
}
