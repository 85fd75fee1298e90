import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { startApi } from './start-api.js';
import type { Api } from './start-api.js';

let api: Api;
const folder = mkdtempSync(join(tmpdir(), 'seamwarden-pages-'));

beforeAll(async () => {
  mkdirSync(join(folder, 'assets'));
  writeFileSync(join(folder, 'index.html'), '<!doctype html><title>pages</title>');
  writeFileSync(join(folder, 'station.html'), '<!doctype html><title>station</title>');
  writeFileSync(join(folder, 'assets', 'index-B1x_9aQz.js'), 'export {};');
  api = await startApi({ pagesDir: folder });
});

afterAll(async () => {
  await api.stop();
  rmSync(folder, { recursive: true });
});

test('pages are found with and without their ending and are asked for anew each time', async () => {
  for (const [path, title] of [['/', 'pages'], ['/index.html', 'pages'], ['/station', 'station']] as const) {
    const response = await fetch(api.url + path);
    expect(await response.text()).toContain(`<title>${title}`);
    expect(response.headers.get('cache-control')).toBe('no-cache');
  }
});

test('a file that is named by its content is cached for good', async () => {
  const response = await fetch(`${api.url}/assets/index-B1x_9aQz.js`);
  expect(response.headers.get('cache-control')).toBe('public, max-age=31536000, immutable');
  expect(response.headers.get('content-type')).toMatch(/javascript/);
});

test('nothing outside the folder is served, and a missing file is a problem', async () => {
  for (const path of ['/..%2f..%2fetc%2fpasswd', '/%2e%2e/%2e%2e/etc/passwd', '/.env', '/missing.js', '/assets', '/a%00b']) {
    const response = await fetch(api.url + path);
    expect([400, 403, 404], path).toContain(response.status);
    expect(response.headers.get('content-type'), path).toMatch(/^application\/problem\+json/);
  }
  expect((await fetch(`${api.url}/%`)).status).toBe(400);
});

test('pages may load from here only', async () => {
  const policy = (await fetch(api.url)).headers.get('content-security-policy') ?? '';
  expect(policy).toContain("default-src 'none'");
  expect(policy).toContain("script-src 'self'");
  expect(policy).not.toMatch(/unsafe|\*|https?:/);
});

test('scripts and answers are compressed for clients that accept it, the live feed is not', async () => {
  const script = `export const words = ${JSON.stringify('weld '.repeat(4_000))};`;
  writeFileSync(join(folder, 'assets', 'large-C2y_8bRw.js'), script);
  const asked = (path: string, encoding: string): Promise<Response> => fetch(api.url + path, { headers: { 'accept-encoding': encoding } });
  for (const encoding of ['gzip', 'br']) {
    const response = await asked('/assets/large-C2y_8bRw.js', encoding);
    expect(response.headers.get('content-encoding')).toBe(encoding);
    expect(response.headers.get('vary')).toMatch(/accept-encoding/i);
    // Fetch unpacks it: what comes out is the file.
    expect(await response.text()).toBe(script);
    const described = await asked('/api/openapi.json', encoding);
    expect(described.headers.get('content-encoding')).toBe(encoding);
    expect((await described.json()) as object).toHaveProperty('openapi');
  }
  expect((await asked('/assets/large-C2y_8bRw.js', 'identity')).headers.get('content-encoding')).toBeNull();
  const end = new AbortController();
  const feed = await fetch(`${api.url}/api/live`, { headers: { 'accept-encoding': 'gzip' }, signal: end.signal });
  expect([feed.status, feed.headers.get('content-encoding')]).toEqual([200, null]);
  end.abort();
});
