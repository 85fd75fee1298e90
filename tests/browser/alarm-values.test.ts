import { afterEach, describe, expect, it } from 'vitest';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { filterQuery, fits, orderOf } from '../../dashboards/alarms/alarm-filter.js';
import type { AlarmFilter } from '../../dashboards/alarms/alarm-filter.js';
import { alarmRates, burdenOf } from '../../dashboards/alarms/alarm-rate.js';
import { nextTimeOfDay } from '../../dashboards/alarms/shelve-until.js';
import { actionOf } from '../../dashboards/shared/alarm-actions-words.js';
import { alarmSentence } from '../../dashboards/shared/alarm-sentence.js';
import { chooseLanguage, chooseUnits } from '../../dashboards/shared/choices.js';
import { limitDigits, liveDigits } from '../../dashboards/shared/live-text.js';
import { serviceFacts } from '../../dashboards/shared/service-facts.js';
import { activeAlarms, activeCount, clearedElsewhere, clearedOfRun, shelvedAlarms } from '../../dashboards/shared/standing-alarms.js';

afterEach(() => {
  chooseUnits('metric');
  chooseLanguage('en');
});

function alarmOf(part: Partial<Alarm>): Alarm {
  return {
    id: 'a1', site: 'hall-a', carriage: 'c1', run: 'r1', seam: 'DK-0417/L2', runNumber: 3, arc: 1, quantity: 'voltage', limit: 30, worst: 27.3, priority: 'high', response: null, state: 'unacknowledged',
    since: '2026-11-25T10:00:00.000Z', raisedAt: '2026-11-25T10:00:01.000Z', recordedAt: '2026-11-25T10:00:01.020Z', travelled: 1284.5, seamPosition: 4775.5, acknowledgedAt: null, acknowledgedBy: null, note: null,
    returnedAt: null, clearedRecordedAt: null, shelvedUntil: null, shelvedBy: null, shelvedReason: null, withdrawn: null, ...part,
  };
}

const said = (part: Partial<Alarm>, seam: string | null = null): string => alarmSentence(alarmOf(part), seam).replaceAll('\u00a0', ' ');

describe('the sentence of an alarm', () => {
  it('says what, by how much, which way and from where on', () => {
    expect(said({}, 'DK-0417/L2')).toBe('DK-0417/L2: Voltage of arc 1 is below 30.0 V, min 27.3 V, from 4775.5 mm (seam position).');
    expect(said({ quantity: 'heatInput', arc: null, limit: 3.1, worst: 3.3441, seamPosition: null, returnedAt: '2026-11-25T10:00:09.000Z' })).toBe('Heat input was above 3.100 kJ/mm, max 3.344 kJ/mm, from 1284.5 mm of travel.');
    expect(said({ quantity: 'currentVariation', limit: 0.1, worst: 0.134 })).toBe('Current variation of arc 1 is above 10.0 %, max 13.4 %, from 4775.5 mm (seam position).');
    expect(said({ worst: null })).toBe('Voltage of arc 1 is out of limits (30.0 V), from 4775.5 mm (seam position).');
  });

  it('rounds neither a limit to another one, nor a worst value to the limit', () => {
    expect(said({ limit: 30.25, worst: 30.1 })).toContain('below 30.25 V, min 30.1 V');
    expect(said({ limit: 30, worst: 29.96 })).toContain('below 30.0 V, min 29.96 V');
  });

  it('has words of its own for what has no limits', () => {
    expect(said({ quantity: 'travelStopped', arc: null, limit: 90, worst: 12 })).toBe('Carriage stopped with arc on (12 mm/min), from 4775.5 mm (seam position).');
    expect(said({ quantity: 'overlap', arc: null, limit: 0, worst: -5.5 })).toBe('Restart left 5.5 mm unwelded, at 4775.5 mm (seam position).');
    // Electrode positive is positive current: one that is negative should have been that.
    expect(said({ quantity: 'polarity', limit: 0, worst: -1 })).toBe('Arc 1, wrong polarity (procedure calls for DCEP), from 4775.5 mm (seam position).');
    expect(said({ quantity: 'storage', site: null, carriage: null, run: null, arc: null, limit: null, worst: null, travelled: null, seamPosition: null })).toMatch(/^Cannot store data, since \d\d:\d\d:\d\d\.$/);
  });

  it('shows the real length of a silence, not the time after which it is an alarm', () => {
    const silent = { quantity: 'noData', arc: null, limit: 5, worst: 5, recordedAt: new Date(Date.now() - 25 * 60_000).toISOString() };
    expect(said(silent)).toBe('No data for 25 min, arc presumed on, last known at 4775.5 mm (seam position).');
    expect(alarmSentence(alarmOf(silent), null, 12_000).replaceAll('\u00a0', ' ')).toContain('No data for 12 s, arc presumed on');
    // Stored before the arrival was noted: the carriage's clock tells no age.
    expect(said({ ...silent, recordedAt: null })).toBe('No data, arc presumed on, last known at 4775.5 mm (seam position).');
    expect(said({ ...silent, returnedAt: '2026-11-25T10:00:09.000Z', state: 'returned' })).toBe('There was no data with the arc on, last known at 4775.5 mm (seam position).');
  });

  it('is in the past tense once cleared, whatever it is', () => {
    for (const quantity of ['voltage', 'noData', 'travelStopped', 'polarity', 'storage', 'broker']) {
      expect(said({ quantity, worst: null, returnedAt: '2026-11-25T10:00:09.000Z', state: 'returned' }), quantity).toMatch(/ (was|came|could not be) /);
    }
  });

  it('follows the units and the language', () => {
    chooseUnits('us');
    // 508 mm/min is 20 in/min and 482.6 is 19; 4775.5 mm is 188.01 in.
    expect(said({ quantity: 'travelSpeed', arc: null, limit: 508, worst: 482.6 })).toBe('Travel speed is below 20.0 in/min, min 19.0 in/min, from 188.01 in (seam position).');
    chooseUnits('metric');
    chooseLanguage('zh');
    expect(said({}, 'DK-0417/L2')).toBe('DK-0417/L2：电弧 1 的电压低于 30.0 V，最低 27.3 V，自焊缝位置 4775.5 mm 起。');
  });
});

describe('a limit beside a live value', () => {
  it('has as many decimals as the value in a unit in which it was not set, else as many as it was set with', () => {
    expect([1.7, 2.8, 2.875].map((limit) => limitDigits('heatInput', limit))).toEqual(['1.70', '2.80', '2.875']);
    expect(limitDigits('voltage', 30.25)).toBe('30.25');
    chooseUnits('us');
    // 1.7 · 25.4 = 43.18, 2.22 · 25.4 = 56.388, 2.8 · 25.4 = 71.12 kJ/in; 450 / 25.4 = 17.717 in/min.
    expect([limitDigits('heatInput', 1.7), liveDigits('heatInput', 2.22), limitDigits('heatInput', 2.8)]).toEqual(['43.2', '56.4', '71.1']);
    expect(limitDigits('travelSpeed', 450)).toBe('17.7');
    expect(limitDigits('voltage', 30.25)).toBe('30.25');
  });
});

describe('what is to be done at an alarm', () => {
  const all = ['noData', 'travelStopped', 'polarity', 'overlap', 'storage', 'broker', 'current', 'voltage', 'travelSpeed', 'wireFeedSpeed', 'heatInput', 'currentVariation', 'voltageVariation', 't85'];

  it('is what the procedure says, or is built in for everything that can alarm', () => {
    expect(actionOf(alarmOf({ response: 'check the contact tube' }))).toBe('check the contact tube');
    chooseLanguage('zh');
    expect(actionOf(alarmOf({ response: 'check the contact tube', responses: { zh: '检查导电嘴' } }))).toBe('检查导电嘴');
    expect(actionOf(alarmOf({ response: 'check the contact tube' }))).toBe('check the contact tube');
    chooseLanguage('en');
    for (const language of ['en', 'zh'] as const) {
      chooseLanguage(language);
      for (const quantity of all) expect(actionOf(alarmOf({ quantity })), `${language} ${quantity}`).toMatch(language === 'en' ? /^[A-Z].+\.$/ : /。$/);
    }
  });

  it('goes against the side on which the value is out', () => {
    expect(actionOf(alarmOf({ limit: 34, worst: 35.2 }))).toMatch(/voltage down/);
    expect(actionOf(alarmOf({ limit: 30, worst: 27.3 }))).toMatch(/voltage up/);
    expect(actionOf(alarmOf({ quantity: 'travelSpeed', arc: null, limit: 450, worst: 300 }))).toMatch(/^Speed the carriage up/);
  });

  it('is nothing once it is cleared, shelved or suppressed', () => {
    for (const state of ['returned', 'normal', 'shelved', 'suppressed'] as const) expect(actionOf(alarmOf({ state, response: 'check the contact tube' })), state).toBeNull();
    expect(actionOf(alarmOf({ state: 'acknowledged' }))).not.toBeNull();
  });

  it('of the service itself is no reason in place of an action', () => {
    expect(actionOf(alarmOf({ site: null, carriage: null, quantity: 'storage', response: 'no space left on device' }))).toMatch(/check the disk/);
  });
});

describe('active and cleared alarms of a carriage', () => {
  const of = (id: string, part: Partial<Alarm>): Alarm => alarmOf({ id, ...part });
  const over = '2026-11-25T10:00:09.000Z';
  const alarms = [
    of('old run', { run: 'r0', state: 'returned', returnedAt: over }),
    of('low', { priority: 'low', recordedAt: '2026-11-25T10:00:05.000Z' }),
    of('this run', { state: 'returned', returnedAt: over }),
    of('high', { priority: 'high', recordedAt: '2026-11-25T10:00:01.000Z' }),
    of('shelved', { state: 'shelved', shelvedUntil: over }),
    of('suppressed', { state: 'suppressed' }),
    of('seen', { state: 'acknowledged' }),
    of('no run', { run: null, state: 'returned', returnedAt: over }),
  ];
  const none = { active: 0, unacknowledged: 0, cleared: 0, shelved: 0, suppressed: 0, clearedOfRun: 0 };
  const ids = (list: readonly Alarm[]): string[] => list.map(({ id }) => id);

  it('are kept apart, and alarms of another run stay with it', () => {
    const carriage = { alarms, run: 'r1', alarmCounts: none };
    expect(ids(activeAlarms(carriage))).toEqual(['high', 'low', 'seen']);
    expect(ids(clearedOfRun(carriage).alarms)).toEqual(['this run']);
    expect(ids(clearedElsewhere(carriage).alarms).sort()).toEqual(['no run', 'old run']);
    expect(ids(shelvedAlarms(carriage).alarms)).toEqual(['shelved']);
    // Between runs nothing cleared is of the run at hand.
    expect([clearedOfRun({ ...carriage, run: null }).count, clearedElsewhere({ ...carriage, run: null }).count]).toEqual([0, 3]);
  });

  it('are counted by the carriage\'s counts, as only ten alarms come with it', () => {
    const carriage = { alarms, run: 'r1', alarmCounts: { active: 3, unacknowledged: 2, cleared: 31, shelved: 4, suppressed: 1, clearedOfRun: 6 } };
    expect([activeCount(carriage), clearedOfRun(carriage).count, clearedElsewhere(carriage).count, shelvedAlarms(carriage).count]).toEqual([3, 6, 25, 4]);
  });

  it('are in order of arrival, whatever the clock of the carriage says', () => {
    const ahead = of('ahead', { raisedAt: '2026-11-25T10:20:00.000Z', recordedAt: '2026-11-25T10:00:00.000Z' });
    const behind = of('behind', { raisedAt: '2026-11-25T09:40:00.000Z', recordedAt: '2026-11-25T10:00:10.000Z' });
    expect(ids(activeAlarms({ alarms: [ahead, behind] }))).toEqual(['behind', 'ahead']);
    expect(ids(activeAlarms({ alarms: [behind, ahead] }))).toEqual(['behind', 'ahead']);
  });
});

describe('alarm load', () => {
  const at = Date.parse('2026-11-25T12:00:00.000Z');
  const ago = (seconds: number, part: Partial<Alarm> = {}): Alarm => alarmOf({ recordedAt: new Date(at - seconds * 1000).toISOString(), ...part });

  it('counts 10 minutes and 24 h by carriage, the busiest first, without suppressed ones', () => {
    const alarms = [ago(0), ago(599.999), ago(600), ago(86_399), ago(86_400), ago(5, { state: 'suppressed' }), ago(5, { carriage: 'c2' }), ago(700, { site: null, carriage: null })];
    expect(alarmRates(alarms, at)).toEqual([
      // All together were raised 0, 5, 599.999, 600, 700 and 86,399 s ago: no 10 minutes hold more than three of these.
      { key: null, lastTen: 3, lastDay: 6, worstTen: 3 },
      { key: 'hall-a/c1', lastTen: 2, lastDay: 4, worstTen: 2 },
      { key: 'hall-a/c2', lastTen: 1, lastDay: 1, worstTen: 1 },
      { key: '', lastTen: 0, lastDay: 1, worstTen: 1 },
    ]);
    expect(alarmRates([ago(86_400)], at)).toEqual([]);
  });

  it('is judged against about 1 in 10 min, and a flood above 10 (IEC 62682, second hand)', () => {
    expect(burdenOf({ worstTen: 1, lastDay: 144 })).toBe('bearable');
    expect(burdenOf({ worstTen: 2, lastDay: 2 })).toBe('tooMany');
    // 144 stretches of 10 min a day.
    expect(burdenOf({ worstTen: 1, lastDay: 145 })).toBe('tooMany');
    expect(burdenOf({ worstTen: 10, lastDay: 10 })).toBe('tooMany');
    expect(burdenOf({ worstTen: 11, lastDay: 11 })).toBe('flood');
  });
});

describe('the list of alarms', () => {
  const at = Date.parse('2026-11-25T12:00:00.000Z');
  const filter: AlarmFilter = { state: '', priority: '', site: '', carriage: '', seam: '', within: '', order: '' };
  const older = alarmOf({ id: 'older', recordedAt: '2026-11-25T09:00:00.000Z' });
  const newer = alarmOf({ id: 'newer', recordedAt: '2026-11-25T11:00:00.000Z', state: 'normal' });

  it('is newest first, or the active ones before the others', () => {
    expect([older, newer].sort(orderOf(filter)).map(({ id }) => id)).toEqual(['newer', 'older']);
    expect([newer, older].sort(orderOf({ order: 'standing' })).map(({ id }) => id)).toEqual(['older', 'newer']);
  });

  it('follows every filter, and time by when the service heard of it', () => {
    const ahead = alarmOf({ id: 'ahead', raisedAt: '2026-11-25T12:20:00.000Z', recordedAt: '2026-11-25T11:50:00.000Z', seam: 'S-1', priority: 'low' });
    const is = (change: Partial<AlarmFilter>): boolean => fits({ ...filter, ...change }, ahead, at);
    expect([is({ within: 'hour' }), is({ seam: 'S-1' }), is({ priority: 'low' }), is({ state: 'active' })]).toEqual([true, true, true, true]);
    expect([is({ seam: 'S-2' }), is({ priority: 'high' }), is({ site: 'hall-b' })]).toEqual([false, false, false]);
    expect(fits({ ...filter, within: 'hour' }, ahead, at + 3_600_000)).toBe(false);
    // Its clock is ahead; it arrived before this one.
    expect([ahead, alarmOf({ id: 'later', recordedAt: '2026-11-25T11:55:00.000Z' })].sort(orderOf(filter)).map(({ id }) => id)).toEqual(['later', 'ahead']);
    expect(filterQuery({ ...filter, state: 'active', within: 'day' }, at)).toMatchObject({ active: 'true', from: '2026-11-24T12:00:00.000Z' });
  });
});

describe('until when an alarm is shelved', () => {
  it('is the next time of that name, and within a day', () => {
    // 14:00 in Berlin, in winter an hour ahead of UTC.
    serviceFacts.value = { version: '0', timeZone: 'Europe/Berlin', shifts: [], startedAt: '2026-11-25T00:00:00.000Z', mqtt: { embedded: true, host: '', port: 1 }, http: { host: '', port: 1 } };
    const at = Date.parse('2026-11-25T13:00:00.000Z');
    expect(nextTimeOfDay('14:30', at)).toBe(at + 30 * 60_000);
    expect(nextTimeOfDay('14:00', at)).toBe(at + 24 * 3_600_000);
    expect(nextTimeOfDay('6:15', at)).toBe(at + (16 * 60 + 15) * 60_000);
    for (const text of ['', '24:00', '7', '14:60', '14.30']) expect(nextTimeOfDay(text, at), text).toBeNull();
  });
});
