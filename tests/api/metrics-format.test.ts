import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { carriageText } from './fake-port.js';
import { startApi } from './start-api.js';
import type { Api } from './start-api.js';

/** The parser of the Prometheus project's Python client: it knows OpenMetrics by the text of the standard. OpenMetrics has NaN and infinity, JSON has not. */
const python = '/usr/bin/python3';
const parse = `
import json, math, sys
from prometheus_client.openmetrics.parser import text_string_to_metric_families as families
print(json.dumps([[f.name, f.type, [[s.name, s.labels, s.value if math.isfinite(s.value) else str(s.value)] for s in f.samples]] for f in families(sys.stdin.read())]))
`;
const rules = fileURLToPath(new URL('../../services/alert-rules.yml', import.meta.url));
const promtool = [fileURLToPath(new URL('../../.cache/rules-checker/usr/bin/promtool', import.meta.url)), '/usr/bin/promtool'].find((file) => existsSync(file));
const hasParser = spawnSync(python, ['-c', 'import prometheus_client.openmetrics.parser']).status === 0;

type Family = readonly [name: string, type: string, samples: readonly (readonly [name: string, labels: Readonly<Record<string, string>>, value: number])[]];

let api: Api;

beforeAll(async () => {
  api = await startApi();
  api.port.shown = [carriageText('hall-2', 'c2', 610).replace('2026-11-23T08:00:00.000Z', new Date().toISOString())];
  api.port.committed([{ messages: 40, seconds: 0.004, waited: 0.011 }, { messages: 3, seconds: 0.3, waited: 0.4 }]);
});

afterAll(async () => {
  await api.stop();
});

const read = async (): Promise<string> => await (await fetch(`${api.url}/metrics`)).text();

test.skipIf(!hasParser)('another program reads the metrics: families, types, labels and values', async () => {
  const ran = spawnSync(python, ['-c', parse], { input: await read(), encoding: 'utf8' });
  expect(ran.stderr).toBe('');
  const families = new Map((JSON.parse(ran.stdout) as Family[]).map((own) => [own[0], own]));
  const samples = (family: string): [string, Record<string, string>, number | string][] => (families.get(family)?.[2] ?? []).map(([name, labels, value]) => [name, { ...labels }, value]);
  expect(families.get('seamwarden_items_received')?.[1]).toBe('counter');
  expect(samples('seamwarden_items_received')).toEqual([['seamwarden_items_received_total', {}, 100]]);
  expect(samples('seamwarden_carriage_clock_offset_seconds')).toEqual([['seamwarden_carriage_clock_offset_seconds', { site: 'hall-2', carriage: 'c2' }, 0.12]]);
  expect(samples('seamwarden_messages_queued').map(([, , value]) => value)).toEqual([4]);
  expect(samples('seamwarden_broker_connects').map(([, , value]) => value)).toEqual([2]);
  const durations = samples('seamwarden_commit_duration_seconds');
  const below = (le: string): number | string | undefined => durations.find(([name, labels]) => name.endsWith('_bucket') && Number(labels.le) === Number(le))?.[2];
  // One commit of 4 ms, one of 300 ms.
  expect([below('0.0025'), below('0.005'), below('0.25'), below('0.5')]).toEqual([0, 1, 1, 2]);
  expect(durations.find(([name]) => name.endsWith('_sum'))?.[2]).toBeCloseTo(0.304, 9);
});

test('every metric that an alert rule names is there', async () => {
  const text = await read();
  const named = new Set([...readFileSync(rules, 'utf8').matchAll(/\bseamwarden_\w+/g)].map(([name]) => name));
  expect(named.size).toBeGreaterThan(7);
  for (const name of named) expect(text, name).toMatch(new RegExp(`^${name}(\\{| )`, 'm'));
});

test.skipIf(promtool === undefined)('the checker of Prometheus takes the alert rules', () => {
  const ran = spawnSync(promtool ?? '', ['check', 'rules', rules], { encoding: 'utf8' });
  expect(`${ran.stdout}${ran.stderr}`).toMatch(/SUCCESS: 9 rules found/);
});
