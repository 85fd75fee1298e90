import { afterAll, beforeAll, expect, test } from 'vitest';
import { carriageText } from './fake-port.js';
import { startApi } from './start-api.js';
import type { Api } from './start-api.js';

let api: Api;

beforeAll(async () => {
  api = await startApi();
});

afterAll(async () => {
  await api.stop();
});

async function scrape(): Promise<{ text: string; type: string | null; value: (name: string) => number }> {
  const response = await fetch(`${api.url}/metrics`);
  const text = await response.text();
  return { text, type: response.headers.get('content-type'), value: (name) => Number(new RegExp(`^${name} (\\S+)$`, 'm').exec(text)?.[1]) };
}

test('counts what the port counts when it is asked', async () => {
  const first = await scrape();
  expect(['received', 'stored', 'duplicate', 'refused', 'conflict'].map((name) => first.value(`seamwarden_items_${name}_total`))).toEqual([100, 90, 7, 3, 1]);
  expect([first.value('seamwarden_commits_total'), first.value('seamwarden_commit_seconds_total'), first.value('seamwarden_unknown_fields_total'), first.value('seamwarden_storage_ok')]).toEqual([5, 0.25, 2, 1]);
  api.port.counted = { ...api.port.counted, stored: 190 };
  api.port.storage = { ok: false, reason: 'full', writtenAt: null, damage: null };
  const second = await scrape();
  expect([second.value('seamwarden_items_received_total'), second.value('seamwarden_storage_ok')]).toEqual([200, 0]);
  expect(second.value('process_resident_memory_bytes')).toBeGreaterThan(1e6);
});

test('is OpenMetrics: its type, its end, and counters that end in _total under a family that does not', async () => {
  const { text, type } = await scrape();
  // OpenMetrics 1.0, sections "Overall structure", "Counter" and "Protocol negotiation".
  expect(type).toBe('application/openmetrics-text; version=1.0.0; charset=utf-8');
  expect(text.endsWith('# EOF\n')).toBe(true);
  for (const [, family] of text.matchAll(/^# TYPE (\S+) counter$/gm)) {
    expect(family).not.toMatch(/_total$/);
    expect(text).toMatch(new RegExp(`^${family}_total(\\{.*\\})? \\S+$`, 'm'));
  }
});

test('a carriage is in the metrics for a day after it was heard last', async () => {
  const heard = (name: string, ago: number): string => carriageText('hall-1', name, 600).replace('2026-11-23T08:00:00.000Z', new Date(Date.now() - ago).toISOString());
  api.port.shown = [heard('today', 3_600_000), heard('long-ago', 86_400_000 + 60_000), carriageText('hall-1', 'never', 600).replace('"2026-11-23T08:00:00.000Z"', 'null')];
  const { text } = await scrape();
  expect([...text.matchAll(/^seamwarden_carriage_welding\{site="hall-1",carriage="(.*)"\} 1$/gm)].map(([, name]) => name)).toEqual(['today']);
});

test('five thousand carriages are counted within a second', async () => {
  const now = new Date().toISOString();
  api.port.shown = Array.from({ length: 5_000 }, (_, at) => carriageText('hall-1', `c${at}`, 600).replace('2026-11-23T08:00:00.000Z', now));
  const begun = performance.now();
  const { text } = await scrape();
  expect(performance.now() - begun).toBeLessThan(1_000);
  expect(text.match(/^seamwarden_carriage_silence_seconds\{/gm)).toHaveLength(5_000);
});
