import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { brokerAlarm } from '../../services/ingest/thread/broker-alarm.js';
import { serviceAlarms } from '../../services/ingest/alarms/service-alarms.js';
import type { ServiceAlarms } from '../../services/ingest/alarms/service-alarms.js';
import { changeWriter } from '../../services/ingest/store/change-writer.js';
import { openStore } from '../../services/ingest/store/open-store.js';
import type { Store } from '../../services/ingest/store/open-store.js';
import { emptyChangeSet } from '../../shared/records/change-set.js';
import { migrate } from '../../shared/records/migrate.js';
import { openWriter } from '../../shared/records/open-database.js';
import { sqliteTracesSchema } from '../../shared/traces/sqlite-traces.js';
import type { AlarmFacts } from '../../shared/weld/judging/alarm-life.js';

const folder = mkdtempSync(join(tmpdir(), 'seamwarden-alarms-'));
const writer = openWriter(join(folder, 'records.db'));
let store: Store;
let now = Date.UTC(2026, 10, 25) * 1e3;

interface Told {
  readonly id: string;
  readonly quantity: string;
  readonly state: string;
}

beforeAll(() => {
  migrate(writer, [sqliteTracesSchema]);
  store = openStore(writer);
});

afterAll(() => {
  writer.close();
  rmSync(folder, { recursive: true, force: true });
});

const stateOf = (id = ''): string | undefined => store.statements.alarm.get(id)?.state;

function save(alarms: ServiceAlarms): void {
  const changes = emptyChangeSet();
  const saved = alarms.save(changes);
  changeWriter(writer).apply(changes);
  saved();
}

// States by the terms of IEC 62682.
test('failing storage is reported at once, written when it works again, and stays until somebody acknowledges it', () => {
  const told: Told[] = [];
  const alarms = serviceAlarms(store.serviceAlarms(), () => now, (data) => told.push(JSON.parse(data) as Told));
  alarms.raise('storage', 'no space left on device');
  alarms.raise('storage', 'no space left on device');
  expect(told.map(({ quantity, state }) => [quantity, state])).toEqual([['storage', 'unacknowledged']]);
  expect(store.serviceAlarms()).toEqual([]);
  now += 60e6;
  alarms.end('storage');
  expect(told.at(-1)?.state).toBe('returned');
  expect(alarms.isDue()).toBe(true);
  save(alarms);
  expect([alarms.isDue(), stateOf(told[0]?.id)]).toEqual([false, 'returned']);
  const again = serviceAlarms(store.serviceAlarms(), () => now, (data) => told.push(JSON.parse(data) as Told));
  again.recall(JSON.parse(store.statements.alarm.get(told[0]?.id ?? '')?.facts ?? '') as AlarmFacts);
  again.acknowledge(told[0]?.id ?? '', 'op-07', null);
  expect([told.at(-1)?.id, told.at(-1)?.state]).toEqual([told[0]?.id, 'normal']);
  save(again);
  expect(stateOf(told[0]?.id)).toBe('normal');
});

test('a broker that is away for 5 s is an alarm; one that is back sooner, or that we left ourselves, is none', () => {
  vi.useFakeTimers();
  const told: Told[] = [];
  let own = false;
  const turned = brokerAlarm(serviceAlarms(store.serviceAlarms(), () => now, (data) => told.push(JSON.parse(data) as Told)), () => own);
  turned(false, 'connection lost');
  vi.advanceTimersByTime(4_900);
  turned(true, null);
  vi.advanceTimersByTime(10_000);
  own = true;
  turned(false, 'nothing can be stored');
  vi.advanceTimersByTime(10_000);
  expect(told).toEqual([]);
  own = false;
  turned(false, 'connection lost');
  vi.advanceTimersByTime(5_100);
  turned(true, null);
  vi.useRealTimers();
  expect(told.map(({ quantity, state }) => [quantity, state])).toEqual([['broker', 'unacknowledged'], ['broker', 'returned']]);
});
