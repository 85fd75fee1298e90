import { afterEach, beforeEach, expect, test } from 'vitest';
import { carriageAlarms } from '../../services/ingest/alarms/carriage-alarms.js';
import { forgetOver, saveAlarm } from '../../services/ingest/alarms/save-alarm.js';
import type { Carriage } from '../../services/ingest/fold/carriage.js';
import { alarmSchema } from '../../shared/api-types/alarm.js';
import { shelveAlarm, untouched } from '../../shared/weld/judging/alarm-life.js';
import type { AlarmFacts } from '../../shared/weld/judging/alarm-life.js';
import { openStreams } from './open-streams.js';
import type { OpenStreams } from './open-streams.js';

let opened: OpenStreams;

beforeEach(() => {
  opened = openStreams();
});

afterEach(() => {
  opened.close();
});

const stream = (): Carriage => opened.streams().stream('hall-a', 'c1', '');
const keep = (alarm: AlarmFacts): void => { saveAlarm(stream(), alarm, opened.streams().fold); };
const told = (run: string | null = null) => carriageAlarms(stream(), run, opened.streams().fold);
const idsOf = (run: string | null = null) => told(run).items.map((item) => alarmSchema.parse(item).id);

/** Makes an alarm, each a second after the one before by the clock of the service. The clock of the carriage is an hour behind. */
function madeAlarm(id: string, change: Partial<AlarmFacts> = {}): AlarmFacts {
  opened.now += 1e6;
  const at = opened.now - 3600e6;
  return {
    id, run: 'run-1', seam: 'DK-0417/L2', runNumber: 3, arc: 1, quantity: 'voltage', limit: 34, worst: 35, priority: 'medium', response: null,
    since: at, raisedAt: at, recordedAt: opened.now, travelled: 10, seamPosition: 10, ...untouched, ...change,
  };
}

const cleared = (id: string, change: Partial<AlarmFacts> = {}): AlarmFacts => {
  const alarm = madeAlarm(id, change);
  return { ...alarm, returnedAt: alarm.raisedAt + 1e6 };
};

test('of many unacknowledged alarms ten are listed, the most urgent first, and all are counted, over a restart too', () => {
  for (let at = 0; at < 500; at += 1) keep(cleared(`over-${at}`, { run: at < 480 ? 'run-0' : 'run-1' }));
  keep(madeAlarm('low', { priority: 'low' }));
  keep(madeAlarm('high-1', { priority: 'high' }));
  keep(madeAlarm('medium'));
  keep(madeAlarm('high-2', { priority: 'high', acknowledgedAt: opened.now, acknowledgedBy: 'op-07' }));
  keep(madeAlarm('heat', { suppressed: true }));
  keep(shelveAlarm(madeAlarm('shelved', { priority: 'low' }), 'op-07', 'known', opened.now + 3600e6));
  const counts = { active: 4, unacknowledged: 3, cleared: 500, clearedOfRun: 20, shelved: 1, suppressed: 1 };
  const ids = ['high-2', 'high-1', 'medium', 'shelved', 'low', 'heat', 'over-499', 'over-498', 'over-497', 'over-496'];
  expect(told('run-1').counts).toEqual(counts);
  expect(idsOf('run-1')).toEqual(ids);
  forgetOver(stream(), opened.streams().fold);
  // Neither run is being welded, so their alarms that are over have left memory.
  expect(stream().alarms.atHand.map(({ id }) => id)).toEqual(['low', 'high-1', 'medium', 'high-2', 'heat', 'shelved']);
  expect(idsOf()).toEqual(ids);
  opened.restart();
  expect(stream().alarms.atHand).toHaveLength(6);
  expect(told().counts).toEqual({ ...counts, clearedOfRun: 0 });
  expect(idsOf()).toEqual(ids);
});

test('an acknowledgement of one that memory does not hold is counted', () => {
  const first = cleared('first');
  keep(first);
  keep(cleared('second'));
  opened.restart();
  expect([stream().alarms.atHand.length, told().counts.cleared]).toEqual([0, 2]);
  keep({ ...first, acknowledgedAt: opened.now, acknowledgedBy: 'op-07' });
  expect([told().counts.cleared, idsOf()]).toEqual([1, ['second']]);
});

test('when an alarm was recorded and known to be over is by the clock of the service, and stays', () => {
  const alarm = madeAlarm('a');
  keep(alarm);
  const shown = () => alarmSchema.parse(told().items[0]);
  expect(shown()).toMatchObject({ seam: 'DK-0417/L2', runNumber: 3, recordedAt: '2026-11-25T00:00:01.000Z', raisedAt: '2026-11-24T23:00:01.000Z', clearedRecordedAt: null });
  opened.now += 8e6;
  keep({ ...alarm, returnedAt: alarm.raisedAt + 2e6 });
  expect(shown()).toMatchObject({ returnedAt: '2026-11-24T23:00:03.000Z', clearedRecordedAt: '2026-11-25T00:00:09.000Z' });
  opened.now += 60e6;
  keep({ ...(stream().alarms.atHand[0] ?? alarm), note: 'contact tube' });
  expect(shown().clearedRecordedAt).toBe('2026-11-25T00:00:09.000Z');
  // A late item shows that the run continues after all.
  keep({ ...(stream().alarms.atHand[0] ?? alarm), returnedAt: null });
  expect(shown().clearedRecordedAt).toBe(null);
});

test('an alarm from before these times were kept never has them', () => {
  const old = { ...madeAlarm('old'), seam: null, runNumber: null, recordedAt: null };
  keep({ ...old, returnedAt: old.raisedAt });
  opened.restart();
  keep({ ...old, returnedAt: old.raisedAt, note: 'seen' });
  expect(alarmSchema.parse(told().items[0])).toMatchObject({ seam: null, runNumber: null, recordedAt: null, clearedRecordedAt: null, note: 'seen' });
});
