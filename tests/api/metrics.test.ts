import { afterAll, beforeAll, expect, test } from 'vitest';
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
  api.port.storage = { ok: false, reason: 'full', writtenAt: null };
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
