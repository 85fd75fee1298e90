import { request } from 'node:http';
import { connect } from 'node:net';
import { setTimeout as wait } from 'node:timers/promises';
import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Problem } from '../../shared/api-types/problem.js';
import { isFull } from '../counts.js';
import { askerOf, json } from './announced.js';
import type { Asker } from './announced.js';
import { startApi } from './start-api.js';
import type { Api } from './start-api.js';

let api: Api;
let asker: Asker;

beforeAll(async () => {
  api = await startApi();
  asker = await askerOf(api.url);
  api.addRun({ id: 'r1' });
});

afterAll(async () => {
  await api.stop();
});

/** Asks with headers that fetch does not let through. */
function raw(method: string, path: string, headers: Record<string, string>, body = ''): Promise<{ status: number; headers: NodeJS.Dict<string | string[]>; text: string }> {
  const { port } = new URL(api.url);
  return new Promise((resolve, reject) => {
    const asked = request({ host: '127.0.0.1', port, method, path, headers }, (response) => {
      let text = '';
      response.on('data', (part: Buffer) => (text += part.toString()));
      response.on('end', () => {
        resolve({ status: response.statusCode ?? 0, headers: response.headers, text });
      });
    });
    asked.on('error', reject);
    asked.end(body);
  });
}

async function problem(method: string, path: string, init: Omit<RequestInit, 'method'> = {}): Promise<Problem> {
  const answer = await asker.ask(method, path, init);
  // RFC 9457 section 3.
  expect(answer.headers.get('content-type')).toMatch(/^application\/problem\+json/);
  expect((answer.body as Problem).status).toBe(answer.status);
  return answer.body as Problem;
}

test('an optional body that is not JSON is answered, and the service goes on', async () => {
  const answer = await raw('DELETE', '/api/carriages/hall-2/c1', { 'content-type': 'application/json', 'content-length': '1' }, '\0');
  expect([answer.status, (JSON.parse(answer.text) as Problem).detail]).toEqual([400, expect.stringContaining('The body is no JSON')]);
});

test('an unknown query parameter is named, and so is one that is given twice', async () => {
  expect(await problem('GET', '/api/runs?seem=x&limit=0')).toMatchObject({ status: 400, errors: [{ field: 'limit' }, { field: 'seem', reason: 'is not known here' }] });
  expect(await problem('GET', '/api/runs?limit=1&limit=2')).toMatchObject({ status: 400, errors: [{ field: 'limit', reason: 'is given twice' }] });
  expect(await problem('GET', '/api/health?__proto__=1')).toMatchObject({ status: 400, errors: [{ field: '__proto__' }] });
});

test('numbers, times and choices of a query are accepted by their own grammar only', async () => {
  for (const query of ['limit=', 'limit=1e400', 'limit=0x10', 'limit=+5', 'limit=5.5', 'limit=1001', 'from=yesterday', 'from=2026-02-30T00:00:00Z', 'from=1795590012400', 'state=done', 'assigned=yes', 'site=a%20b', 'seam=']) {
    const { status, errors } = await problem('GET', `/api/runs?${query}`);
    expect([status, errors?.[0]?.field], query).toEqual([400, query.split('=')[0]]);
  }
});

test('what is not encoded as a URL demands is a 400', async () => {
  for (const path of ['/api/runs/%', '/api/runs/%ff', '/api/runs?seam=%', '/api/runs?seam=%c3%28', '/api/carriages/%/c1/assignment']) {
    const answer = await raw(path.includes('carriages') ? 'DELETE' : 'GET', path, { host: new URL(api.url).host });
    expect([answer.status, answer.headers['content-type']], path).toEqual([400, 'application/problem+json; charset=utf-8']);
  }
});

test('a wrong method is answered with those that are right', async () => {
  for (const [method, path, allow] of [['POST', '/api/runs', 'GET, HEAD'], ['PATCH', '/api/carriages/a/b/assignment', 'PUT, DELETE'], ['OPTIONS', '/api/procedures', 'GET, HEAD, POST'], ['DELETE', '/metrics', 'GET, HEAD']] as const) {
    const answer = await raw(method, path, { host: new URL(api.url).host });
    expect([answer.status, answer.headers['allow']], path).toEqual([405, allow]);
  }
  expect((await fetch(`${api.url}/api/runs`, { method: 'HEAD' })).status).toBe(200);
});

test('an unknown path is a 404, also one that differs only by a slash or by capitals', async () => {
  for (const path of ['/api', '/api/', '/api/nothing', '/api/Runs', '/api/runs/', '/nothing']) expect(await problem('GET', path), path).toMatchObject({ status: 404, instance: path });
});

test('a body must be JSON of the right type and size', async () => {
  const path = '/api/procedures';
  expect(await problem('POST', path)).toMatchObject({ status: 415 });
  expect(await problem('POST', path, { headers: { 'content-type': 'text/plain' }, body: '{}' })).toMatchObject({ status: 415 });
  expect(await problem('POST', path, { headers: { 'content-type': 'application/json; charset=latin1' }, body: '{}' })).toMatchObject({ status: 415 });
  expect(await problem('POST', path, { headers: { 'content-type': 'application/json', 'content-encoding': 'pigeon' }, body: '{}' })).toMatchObject({ status: 415 });
  for (const body of ['{"id":', '{"id":"a",}', 'NaN', '']) expect(await problem('POST', path, { headers: { 'content-type': 'application/json' }, body }), body).toMatchObject({ status: 400 });
  expect(await problem('POST', path, { headers: { 'content-type': 'application/json' }, body: Buffer.from([0x22, 0xff, 0x22]) })).toMatchObject({ status: 400, detail: 'The body is not UTF-8.' });
  expect(await problem('POST', path, json('x'.repeat(1_048_576)))).toMatchObject({ status: 413 });
  expect(await problem('POST', path, { headers: { 'content-type': 'application/json' }, body: '['.repeat(200_000) + ']'.repeat(200_000) })).toMatchObject({ status: 400 });
});

test('only names of this machine are answered', async () => {
  const { host, port } = new URL(api.url);
  for (const good of [host, `localhost:${port}`, `LocalHost`, `[::1]:${port}`, '127.0.0.1']) expect((await raw('GET', '/api/health', { host: good })).status, good).toBe(200);
  for (const bad of ['example.org', `127.0.0.1.example.org:${port}`, 'localhost.example.org', `10.0.0.1:${port}`, 'localhost@example.org']) {
    const answer = await raw('GET', '/api/health', { host: bad });
    expect([answer.status, answer.headers['content-type']], bad).toEqual([403, 'application/problem+json; charset=utf-8']);
  }
  expect((await raw('GET', '/', { host: 'example.org' })).status).toBe(403);
});

test('a browser writes from our own pages only', async () => {
  const { host } = new URL(api.url);
  const write = async (headers: Record<string, string>): Promise<number> => (await raw('DELETE', '/api/carriages/a/b/assignment', { host, ...headers })).status;
  expect(await write({})).toBe(204);
  expect(await write({ origin: `http://${host}`, 'sec-fetch-site': 'same-origin' })).toBe(204);
  for (const headers of [{ origin: 'http://example.org' }, { origin: 'null' }, { origin: `https://${host}` }, { origin: 'http://127.0.0.1:1' }, { 'sec-fetch-site': 'cross-site' }, { 'sec-fetch-site': 'same-site' }]) {
    expect(await write(headers), JSON.stringify(headers)).toBe(403);
  }
  expect((await raw('GET', '/api/runs', { host, origin: 'http://example.org' })).headers['access-control-allow-origin']).toBeUndefined();
});

test('an unforeseen error tells the caller nothing and the log everything', async () => {
  api.writer.exec('ALTER TABLE refused RENAME TO refused_away');
  const answer = await problem('GET', '/api/refused');
  api.writer.exec('ALTER TABLE refused_away RENAME TO refused');
  expect(answer).toMatchObject({ status: 500 });
  expect(JSON.stringify(answer)).not.toMatch(/refused_away|no such table/);
  expect(api.logged.some((line) => line.includes('no such table'))).toBe(true);
});

test('writes are bounded, reads are not', async () => {
  const small = await startApi({ limits: { writesPerMinute: 2 } });
  const ask = await askerOf(small.url);
  const write = async (): Promise<number> => (await ask.ask('DELETE', '/api/carriages/a/b/assignment')).status;
  const statuses = [await write(), await write(), await write()];
  const read = (await ask.ask('GET', '/api/health')).status;
  await small.stop();
  expect([...statuses, read]).toEqual([204, 204, 429, 200]);
});

test('whatever the request, the answer is an announced one and never a 500', async () => {
  const paths = Object.keys(asker.description.paths).filter((path) => path !== '/api/live');
  const value = fc.oneof(fc.constantFrom('r1', 'none', '1', 'time', 'true', '..', '%2e%2e', '-0', '1e9', 'SA-12'), fc.string({ unit: 'binary', maxLength: 12 }).map((text) => encodeURIComponent(text)));
  const name = fc.oneof(fc.constantFrom('limit', 'cursor', 'from', 'to', 'axis', 'points', 'arc', 'bin', 'revision', 'carriage', 'seam', 'constructor', '__proto__'), fc.string({ maxLength: 5 }).map((text) => encodeURIComponent(text)));
  const query = fc.array(fc.tuple(name, value), { maxLength: 3 }).map((pairs) => pairs.map(([key, own]) => `${key}=${own}`).join('&'));
  const body = fc.oneof(fc.json(), fc.string(), fc.constant('{"seam":"S","run":1}'));
  await fc.assert(
    fc.asyncProperty(fc.constantFrom(...paths), fc.constantFrom('GET', 'POST', 'PUT', 'DELETE'), fc.array(value, { minLength: 2, maxLength: 2 }), query, body, async (template, method, values, text, sent) => {
      let used = 0;
      const path = template.replaceAll(/\{\w+\}/g, () => values[used++] ?? 'x');
      const type = template === '/api/imports' ? 'text/csv' : 'application/json';
      const answer = await asker.ask(method, `${path}${text === '' ? '' : `?${text}`}`, method === 'GET' ? {} : { headers: { 'content-type': type }, body: sent });
      expect(answer.status, answer.text).toBeLessThan(500);
    }),
    { numRuns: isFull ? 400 : 150 },
  );
});

test('a body that does not match its encoding is reported as such', async () => {
  for (const [path, type] of [['/api/procedures', 'application/json'], ['/api/imports?carriage=c1', 'text/csv']] as const) {
    for (const encoding of ['gzip', 'deflate', 'br']) {
      const answer = await problem('POST', path, { headers: { 'content-type': type, 'content-encoding': encoding }, body: '{"id": "not packed at all"}' });
      expect([answer.status, answer.detail], `${path} ${encoding}`).toEqual([400, expect.stringContaining(`content-encoding: the body is not ${encoding}: `) as string]);
    }
  }
  const packed = await asker.ask('POST', '/api/procedures', { headers: { 'content-type': 'application/json', 'content-encoding': 'gzip' }, body: gzipSync('{"id":"PACKED-1"}') });
  expect([packed.status < 300, (packed.body as { id?: string }).id]).toEqual([true, 'PACKED-1']);
});

test('a body that announces too much, or does not end, is answered at once and its connection closed', { timeout: 20_000 }, async () => {
  const { port } = new URL(api.url);
  for (const head of ['content-length: 1000000000000', 'transfer-encoding: chunked']) {
    for (const [path, type] of [['/api/procedures', 'application/json'], ['/api/imports?carriage=c1', 'text/csv; charset=latin1']] as const) {
      const socket = connect(Number(port), '127.0.0.1');
      socket.on('error', () => undefined);
      let text = '';
      socket.setEncoding('utf8').on('data', (part: string) => (text += part));
      socket.write(`POST ${path} HTTP/1.1\r\nhost: localhost:${port}\r\ncontent-type: ${type}\r\n${head}\r\n\r\n`);
      const chunk = `10000\r\n${' '.repeat(65_536)}\r\n`;
      const sending = setInterval(() => {
        if (socket.writableLength < 1_000_000) for (let count = 0; count < 8; count += 1) socket.write(chunk);
      }, 5);
      const begun = performance.now();
      while (!text.includes('\r\n\r\n') && performance.now() - begun < 5_000) await wait(10);
      expect(text, `${path} ${head}`).toMatch(path.includes('imports') ? /^HTTP\/1\.1 415 / : /^HTTP\/1\.1 413 /);
      expect(text).toMatch(/\r\nconnection: close\r\n/i);
      while (!socket.closed && performance.now() - begun < 8_000) await wait(10);
      clearInterval(sending);
      expect(socket.closed, `${path} ${head}`).toBe(true);
    }
  }
});
