import { afterAll, expect, test } from 'vitest';
import { alarmCalls } from '../../services/ingest/thread/alarm-calls.js';
import type { Recorder } from '../../services/ingest/writer/recorder-options.js';
import { serviceAlarms } from '../../services/ingest/alarms/service-alarms.js';
import type { AlarmFacts } from '../../shared/weld/judging/alarm-life.js';
import { untouched } from '../../shared/weld/judging/alarm-life.js';
import { openStreams } from './open-streams.js';

const own = openStreams();
const told: string[] = [];
const ofService = serviceAlarms([], () => own.now, (data) => told.push(data));
const change: Recorder['change'] = (gather, work) => work(gather(own.streams()), own.streams());
const recorder = { change, alarms: ofService } as Recorder;
const calls = alarmCalls(recorder);

afterAll(() => {
  own.close();
});

own.take('weld/hall-a/c1/readings', '{"current": 612.4, "voltage": 31.2}');
own.take('weld/hall-a/c2/readings', '{"current": 612.4, "voltage": 31.2}');

function addAlarm(id: string, carriage: string, part: Partial<AlarmFacts> = {}): void {
  const alarm: AlarmFacts = {
    id, run: 'r1', seam: 'S-1', runNumber: 1, recordedAt: own.now, arc: 1, quantity: 'voltage', limit: 34, worst: 35.2, priority: 'high', response: null, since: own.now, raisedAt: own.now, travelled: 1, seamPosition: 1, ...untouched, ...part,
  };
  const stream = own.streams().stream('hall-a', carriage, '');
  stream.alarms.atHand.push(alarm);
  own.db
    .prepare("INSERT INTO alarms (id, stream_id, run_id, site, carriage, state, facts, record) VALUES (?, ?, ?, 'hall-a', ?, ?, ?, '{}')")
    .run(id, stream.id, alarm.run, carriage, alarm.returnedAt === null ? 'unacknowledged' : 'returned', JSON.stringify(alarm));
}

const kept = (id: string): AlarmFacts => JSON.parse((own.db.prepare('SELECT facts FROM alarms WHERE id = ?').get(id) as { facts: string }).facts) as AlarmFacts;
const stateOf = (id: string): string => (own.db.prepare('SELECT state FROM alarms WHERE id = ?').get(id) as { state: string }).state;

test('shelving ends when somebody unshelves it, which only works while it is shelved', () => {
  addAlarm('a1', 'c1');
  expect(calls.unshelve('a1', 'op-07')).toMatchObject({ failed: 'conflict' });
  calls.shelve('a1', 'op-07', 'sensor', own.now + 600e6);
  expect(stateOf('a1')).toBe('shelved');
  const back = calls.unshelve('a1', 'op-08');
  expect('alarm' in back ? JSON.parse(back.alarm) : back).toMatchObject({ state: 'unacknowledged', shelvedUntil: null, shelvedBy: 'op-07' });
  expect(stateOf('a1')).toBe('unacknowledged');
  expect(calls.unshelve('zz', 'op-07')).toMatchObject({ failed: 'notFound' });
});

test('what is cleared is acknowledged together, and what is active stays as it is', () => {
  addAlarm('b1', 'c2', { returnedAt: own.now });
  addAlarm('b2', 'c2', { returnedAt: own.now, run: 'r2' });
  addAlarm('b3', 'c2');
  expect(calls.acknowledgeMany({ run: 'r2', cleared: true }, 'qa-1', 'seen')).toEqual({ acknowledged: 1 });
  expect(kept('b2')).toMatchObject({ acknowledgedBy: 'qa-1', note: 'seen' });
  expect(calls.acknowledgeMany({ carriage: { site: 'hall-a', carriage: 'c2' }, cleared: true }, 'qa-1', null)).toEqual({ acknowledged: 1 });
  expect([stateOf('b1'), stateOf('b2'), stateOf('b3'), stateOf('a1')]).toEqual(['normal', 'normal', 'unacknowledged', 'unacknowledged']);
  // A second time there is nothing left to do, and the first acknowledgement stays.
  expect(calls.acknowledgeMany({ ids: ['b1', 'b3', 'b3'], cleared: false }, 'qa-2', null)).toEqual({ acknowledged: 1 });
  expect([kept('b1').acknowledgedBy, kept('b3').acknowledgedBy]).toEqual(['qa-1', 'qa-2']);
});

test('a name among many that is no alarm changes nothing', () => {
  expect(calls.acknowledgeMany({ ids: ['a1', 'zz'], cleared: false }, 'qa-1', null)).toMatchObject({ failed: 'notFound', reason: expect.stringContaining('zz') as string });
  expect(kept('a1').acknowledgedAt).toBeNull();
});

test('an alarm of the service itself can be acknowledged by its id', () => {
  ofService.raise('broker', 'connection lost');
  const { id } = JSON.parse(told.at(-1) ?? '{}') as { id: string };
  expect(calls.acknowledgeMany({ ids: [id], cleared: false }, 'it-1', null)).toEqual({ acknowledged: 1 });
  expect(JSON.parse(told.at(-1) ?? '{}')).toMatchObject({ state: 'acknowledged', acknowledgedBy: 'it-1' });
});
