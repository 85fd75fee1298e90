import { request } from 'node:http';
import type { IncomingMessage } from 'node:http';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { carriageText } from './fake-port.js';
import { startApi } from './start-api.js';
import type { Api } from './start-api.js';

let api: Api;
const open: IncomingMessage[] = [];

beforeEach(async () => {
  api = await startApi({ limits: { commentEvery: 50, liveReaders: 3, liveBacklog: 200_000, liveEvents: 5 } });
});

afterEach(async () => {
  for (const response of open.splice(0)) response.destroy();
  await api.stop();
});

interface Event {
  readonly id: string;
  readonly event: string;
  readonly data: string;
}

interface Feed {
  readonly response: IncomingMessage;
  text(): string;
  /** Events so far, read by the rules of the HTML standard, section 9.2.6. */
  events(): Event[];
}

function connect(headers: Record<string, string> = {}): Promise<Feed> {
  return new Promise((resolve, reject) => {
    const asked = request(`${api.url}/api/live`, { headers }, (response) => {
      open.push(response);
      let text = '';
      response.setEncoding('utf8').on('data', (part: string) => (text += part));
      response.on('error', () => undefined);
      resolve({ response, text: () => text, events: () => parse(text) });
    });
    asked.on('error', reject);
    asked.end();
  });
}

function parse(text: string): Event[] {
  return text.split('\n\n').flatMap((block) => {
    const fields = block.split('\n').filter((line) => !line.startsWith(':') && line !== '').map((line) => [line.slice(0, line.indexOf(':')), line.slice(line.indexOf(':') + 2)] as const);
    if (fields.length === 0) return [];
    const field = (name: string): string => fields.filter(([own]) => own === name).map(([, value]) => value).join('\n');
    return [{ id: field('id'), event: field('event'), data: field('data') }];
  });
}

async function until(done: () => boolean): Promise<void> {
  for (const end = Date.now() + 5000; !done(); ) {
    if (Date.now() > end) throw new Error('waited 5 s for nothing');
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
}

const run = (number: number): { event: 'run'; data: string } => ({ event: 'run', data: JSON.stringify({ id: `r${number}` }) });

test('a new reader is told the state of every carriage, then every change, with comments between', async () => {
  api.port.shown = [carriageText('hall-2', 'c1', 600), carriageText('hall-2', 'c2', 610)];
  const feed = await connect();
  expect(feed.response.headers['content-type']).toMatch(/^text\/event-stream/);
  expect(feed.response.headers).toMatchObject({ 'cache-control': 'no-store', 'x-accel-buffering': 'no' });
  expect(feed.response.headers['content-encoding']).toBeUndefined();
  await until(() => feed.events().length === 2);
  api.port.tell({ event: 'carriage', data: carriageText('hall-2', 'c1', 612) });
  api.port.tell(run(1));
  await until(() => feed.events().length === 4);
  expect(feed.events().map((own) => [own.event, (JSON.parse(own.data) as { id?: string; carriage?: string }).carriage])).toEqual([['carriage', 'c1'], ['carriage', 'c2'], ['carriage', 'c1'], ['run', undefined]]);
  await until(() => (feed.text().match(/^:$/gm) ?? []).length >= 3);
});

test('a reader that returns is given what it missed: every other event, and of each carriage the newest', async () => {
  const first = await connect();
  await until(() => first.text() !== '');
  api.port.tell(run(1));
  api.port.tell({ event: 'carriage', data: carriageText('hall-2', 'c1', 1) });
  await until(() => first.events().length === 2);
  const seen = first.events().at(-1)?.id ?? '';
  first.response.destroy();
  for (const current of [2, 3, 4]) api.port.tell({ event: 'carriage', data: carriageText('hall-2', 'c1', current) });
  api.port.tell(run(2));
  api.port.tell({ event: 'carriage', data: carriageText('hall-2', 'c2', 5) });
  api.port.tell(run(3));
  const again = await connect({ 'last-event-id': seen });
  await until(() => again.events().length >= 4);
  const told = again.events().map((own) => (own.event === 'run' ? (JSON.parse(own.data) as { id: string }).id : (JSON.parse(own.data) as { arcs: { current: number }[] }).arcs[0]?.current));
  expect(told).toEqual([4, 'r2', 5, 'r3']);
  const none = await connect({ 'last-event-id': again.events().at(-1)?.id ?? '' });
  await until(() => none.text().includes(':'));
  expect(none.events()).toEqual([]);
});

test('an id of another process, or an invalid one, begins anew', async () => {
  api.port.tell(run(1));
  api.port.shown = [carriageText('hall-2', 'c1', 600)];
  for (const id of ['AAAAAAAA.1', 'nonsense', '.', '999']) {
    const feed = await connect({ 'last-event-id': id });
    await until(() => feed.events().length > 0);
    expect(feed.events().map((own) => own.event), id).toEqual(['carriage']);
    feed.response.destroy();
    await until(() => feed.response.closed);
  }
});

test('what is kept for returning readers is bounded', async () => {
  const first = await connect();
  await until(() => first.text() !== '');
  api.port.tell(run(0));
  await until(() => first.events().length === 1);
  for (let number = 1; number <= 20; number += 1) api.port.tell(run(number));
  const again = await connect({ 'last-event-id': first.events()[0]?.id ?? '' });
  await until(() => again.events().length >= 5);
  expect(again.events().map((own) => (JSON.parse(own.data) as { id: string }).id)).toEqual(['r16', 'r17', 'r18', 'r19', 'r20']);
});

test('a reader that does not read is dropped, and nobody else notices', async () => {
  const well = await connect();
  const slow = await connect();
  slow.response.pause();
  const data = JSON.stringify({ id: 'x'.repeat(50_000) });
  let told = 0;
  const reason = new Promise<void>((resolve) => slow.response.once('close', resolve));
  // The kernel's buffers on both sides hold some megabytes of loopback traffic before anything waits here.
  for (; told < 2000 && !slow.response.closed; told += 1) {
    api.port.tell({ event: 'run', data });
    if (told % 20 === 0) await new Promise((resolve) => setTimeout(resolve, 1));
    if ((await liveReaders()) < 2) break;
  }
  slow.response.resume();
  await reason;
  await until(() => well.events().length === told + 1 || well.events().length === told);
  expect(await liveReaders()).toBe(1);
});

async function liveReaders(): Promise<number> {
  const text = await (await fetch(`${api.url}/metrics`)).text();
  return Number(/^seamwarden_live_readers (\d+)$/m.exec(text)?.[1]);
}

test('the number of readers is limited, and a place is free again when one goes', async () => {
  const first = await connect();
  await connect();
  await connect();
  const refused = await fetch(`${api.url}/api/live`);
  expect([refused.status, refused.headers.get('content-type'), refused.headers.get('retry-after')]).toEqual([503, 'application/problem+json; charset=utf-8', '30']);
  first.response.destroy();
  let status = 503;
  for (let attempt = 0; attempt < 100 && status === 503; attempt += 1) {
    const feed = await connect();
    status = feed.response.statusCode ?? 0;
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
  expect(status).toBe(200);
});

test('the feed ends when the service stops', async () => {
  const feed = await connect();
  await until(() => feed.text() !== '');
  expect(api.port.listeners()).toBe(1);
  const ended = new Promise<void>((resolve) => feed.response.once('end', resolve));
  api.abort();
  await ended;
  expect(api.port.listeners()).toBe(0);
});

test('HEAD opens no feed', async () => {
  expect((await fetch(`${api.url}/api/live`, { method: 'HEAD' })).status).toBe(200);
  expect(await liveReaders()).toBe(0);
});
