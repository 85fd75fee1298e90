import { request } from 'node:http';
import type { IncomingMessage } from 'node:http';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { carriageText } from './fake-port.js';
import { startApi } from './start-api.js';
import type { Api } from './start-api.js';

let api: Api;
const open: IncomingMessage[] = [];

beforeEach(async () => {
  api = await startApi({ limits: { liveStall: 1_000 } });
});

afterEach(async () => {
  for (const response of open.splice(0)) response.destroy();
  await api.stop();
});

/** Some 20 kB, as a carriage was with some forty alarms in full. */
function longText(carriage: string, current: number): string {
  return JSON.stringify({ ...(JSON.parse(carriageText('hall-1', carriage, current)) as object), beside: 'x'.repeat(20_000) });
}

interface Feed {
  readonly response: IncomingMessage;
  /** Name and current of each carriage event so far, and the ids beside them. */
  carriages(): { carriage: string; current: number; id: string }[];
}

function connect(headers: Record<string, string> = {}): Promise<Feed> {
  return new Promise((resolve, reject) => {
    const asked = request(`${api.url}/api/live`, { headers }, (response) => {
      open.push(response);
      const told: ReturnType<Feed['carriages']> = [];
      let rest = '';
      // Each event is read once, when it comes: a reader that is busy with what it had already would be taken for one that reads nothing.
      response.setEncoding('utf8').on('data', (part: string) => {
        const blocks = (rest + part).split('\n\n');
        rest = blocks.pop() ?? '';
        for (const block of blocks) {
          const found = /"carriage":"(\w+)".*"current":(\d+)/.exec(block);
          if (found !== null) told.push({ carriage: found[1] ?? '', current: Number(found[2]), id: /^id: (.*)$/m.exec(block)?.[1] ?? '' });
        }
      });
      response.on('error', () => undefined);
      resolve({ response, carriages: () => told });
    });
    asked.on('error', reject);
    asked.end();
  });
}

async function until(done: () => boolean): Promise<void> {
  for (const end = Date.now() + 20_000; !done(); ) {
    if (Date.now() > end) throw new Error('waited 20 s for nothing');
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

const names = (count: number): string[] => Array.from({ length: count }, (_, at) => `c${String(at).padStart(4, '0')}`);

test('five thousand carriages reach a reader that reads, however much that is together', async () => {
  const all = names(5_000);
  api.port.shown = all.map((name) => carriageText('hall-1', name, 600));
  const feed = await connect();
  await until(() => feed.carriages().length >= 5_000);
  expect(feed.carriages().map(({ carriage }) => carriage)).toEqual(all);
});

test('megabytes of first states come through a slow reader, with the newest of what changes meanwhile', async () => {
  const all = names(400);
  api.port.shown = all.map((name) => longText(name, 600));
  const feed = await connect();
  feed.response.pause();
  const pauses = setInterval(() => {
    feed.response.resume();
    setTimeout(() => feed.response.pause(), 5);
  }, 100);
  try {
    for (let current = 601; current <= 620; current += 1) {
      api.port.tell({ event: 'carriage', data: longText('c0399', current) });
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
    clearInterval(pauses);
    feed.response.resume();
    await until(() => feed.carriages().some(({ current }) => current === 620));
    const told = feed.carriages();
    expect(new Set(told.map(({ carriage }) => carriage)).size).toBe(400);
    // What waited was replaced by what is newer.
    expect(told.filter(({ carriage }) => carriage === 'c0399').length).toBeLessThan(20);
    expect(told.at(-1)).toMatchObject({ carriage: 'c0399', current: 620 });
  } finally {
    clearInterval(pauses);
  }
});

test('a reader that is cut off within its first states begins again; one that had them all continues', async () => {
  api.port.shown = names(300).map((name) => longText(name, 600));
  const feed = await connect();
  await until(() => feed.carriages().length === 300);
  const ids = feed.carriages().map(({ id }) => id);
  expect(ids.slice(0, -1).every((id) => id === '')).toBe(true);
  expect(ids.at(-1)).not.toBe('');
  api.port.tell({ event: 'carriage', data: longText('c0007', 601) });
  const again = await connect({ 'last-event-id': ids.at(-1) ?? '' });
  await until(() => again.carriages().length > 0);
  expect(again.carriages().map(({ carriage, current }) => [carriage, current])).toEqual([['c0007', 601]]);
});

test('a reader that reads nothing is disconnected after a while, and holds up nobody', async () => {
  api.port.shown = names(1_000).map((name) => longText(name, 600));
  const dead = await connect();
  dead.response.pause();
  const well = await connect();
  await until(() => well.carriages().length === 1_000);
  let closed = false;
  await until(() => {
    void readers().then((count) => (closed ||= count === 1));
    return closed;
  });
  api.port.tell({ event: 'carriage', data: longText('c0001', 601) });
  await until(() => well.carriages().at(-1)?.current === 601);
});

async function readers(): Promise<number> {
  return Number(/^seamwarden_live_readers (\d+)$/m.exec(await (await fetch(`${api.url}/metrics`)).text())?.[1]);
}
