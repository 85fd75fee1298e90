import { afterEach, describe, expect, it } from 'vitest';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { inOrder, withAlarm } from '../../dashboards/alarms/alarm-filter.js';
import type { AlarmFilter } from '../../dashboards/alarms/alarm-filter.js';
import { alarmRates, burdenOf } from '../../dashboards/alarms/alarm-rate.js';
import { nextTimeOfDay } from '../../dashboards/alarms/shelve-until.js';
import { alarmSentence } from '../../dashboards/shared/alarm-sentence.js';
import { chooseLanguage, chooseUnits } from '../../dashboards/shared/choices.js';

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
  it('says what, by how much, which way and since where', () => {
    expect(said({}, 'DK-0417/L2')).toBe('DK-0417/L2: Voltage of arc 1 is below 30.0 V, lowest 27.3 V, since 4775.5 mm on the seam.');
    expect(said({ quantity: 'heatInput', arc: null, limit: 3.1, worst: 3.3441, seamPosition: null, returnedAt: '2026-11-25T10:00:09.000Z' })).toBe('Heat input was above 3.100 kJ/mm, highest 3.344 kJ/mm, since 1284.5 mm travelled.');
    expect(said({ quantity: 'currentVariation', limit: 0.1, worst: 0.134 })).toBe('Current variation of arc 1 is above 10.0 %, highest 13.4 %, since 4775.5 mm on the seam.');
    expect(said({ worst: null })).toBe('Voltage of arc 1 is outside its limit of 30.0 V, since 4775.5 mm on the seam.');
  });

  it('rounds neither a limit to another one, nor a worst value to the limit', () => {
    expect(said({ limit: 30.25, worst: 30.1 })).toContain('below 30.25 V, lowest 30.1 V');
    expect(said({ limit: 30, worst: 29.96 })).toContain('below 30.0 V, lowest 29.96 V');
  });

  it('has words of its own for what is no window', () => {
    expect(said({ quantity: 'noData', arc: null, limit: 5, worst: 5 })).toBe('No data for more than 5.0 s while the arc is thought to burn, since 4775.5 mm on the seam.');
    expect(said({ quantity: 'travelStopped', arc: null, limit: 90, worst: 12 })).toBe('The carriage stands still with the arc on (12 mm/min), since 4775.5 mm on the seam.');
    expect(said({ quantity: 'overlap', arc: null, limit: 0, worst: -5.5 })).toBe('A restart left 5.5 mm unwelded, at 4775.5 mm on the seam.');
    expect(said({ quantity: 'polarity' })).toBe('Arc 1: the current has the wrong sign for the polarity of the procedure, since 4775.5 mm on the seam.');
    expect(said({ quantity: 'storage', site: null, carriage: null, run: null, arc: null, limit: null, worst: null, travelled: null, seamPosition: null })).toMatch(/^Storage takes no writes, since \d\d:\d\d:\d\d\.$/);
  });

  it('follows the units and the language', () => {
    chooseUnits('us');
    // 508 mm/min is 20 in/min and 482.6 is 19; 4775.5 mm is 188.01 in.
    expect(said({ quantity: 'travelSpeed', arc: null, limit: 508, worst: 482.6 })).toBe('Travel speed is below 20.0 in/min, lowest 19.0 in/min, since 188.01 in on the seam.');
    chooseUnits('metric');
    chooseLanguage('zh');
    expect(said({}, 'DK-0417/L2')).toBe('DK-0417/L2：电弧 1 的电压低于 30.0 V，最低 27.3 V，自焊缝 4775.5 mm 处起。');
  });
});

describe('how many alarms a person gets', () => {
  const at = Date.parse('2026-11-25T12:00:00.000Z');
  const ago = (seconds: number, part: Partial<Alarm> = {}): Alarm => alarmOf({ raisedAt: new Date(at - seconds * 1000).toISOString(), ...part });

  it('counts 10 minutes and 24 h by carriage, the busiest first, without suppressed ones', () => {
    const alarms = [ago(0), ago(599.999), ago(600), ago(86_399), ago(86_400), ago(5, { state: 'suppressed' }), ago(5, { carriage: 'c2' }), ago(700, { site: null, carriage: null })];
    expect(alarmRates(alarms, at)).toEqual([
      { key: null, lastTen: 3, lastDay: 6 },
      { key: 'hall-a/c1', lastTen: 2, lastDay: 4 },
      { key: 'hall-a/c2', lastTen: 1, lastDay: 1 },
      { key: '', lastTen: 0, lastDay: 1 },
    ]);
    expect(alarmRates([ago(86_400)], at)).toEqual([]);
  });

  it('is judged by about 1 in 10 min and a flood above 10 (IEC 62682, second hand)', () => {
    expect(burdenOf({ lastTen: 1, lastDay: 144 })).toBe('bearable');
    expect(burdenOf({ lastTen: 2, lastDay: 2 })).toBe('tooMany');
    // 144 stretches of 10 min a day.
    expect(burdenOf({ lastTen: 0, lastDay: 145 })).toBe('tooMany');
    expect(burdenOf({ lastTen: 10, lastDay: 10 })).toBe('tooMany');
    expect(burdenOf({ lastTen: 11, lastDay: 11 })).toBe('flood');
  });
});

describe('the list of alarms', () => {
  const filter: AlarmFilter = { state: '', site: '', carriage: '', order: '' };
  const older = alarmOf({ id: 'older', raisedAt: '2026-11-25T09:00:00.000Z' });
  const newer = alarmOf({ id: 'newer', raisedAt: '2026-11-25T11:00:00.000Z', state: 'normal' });

  it('is newest first, or the standing ones before the others', () => {
    expect(inOrder([older, newer], filter).map(({ id }) => id)).toEqual(['newer', 'older']);
    expect(inOrder([newer, older], { ...filter, order: 'standing' }).map(({ id }) => id)).toEqual(['older', 'newer']);
  });

  it('takes in, replaces and lets go as alarms change', () => {
    const unacknowledged: AlarmFilter = { ...filter, state: 'unacknowledged' };
    expect(withAlarm([older], { ...older, state: 'acknowledged' }, unacknowledged, false)).toEqual([]);
    expect(withAlarm([older], { ...older, note: 'seen' }, unacknowledged, false)).toEqual([{ ...older, note: 'seen' }]);
    expect(withAlarm([older], newer, filter, true).map(({ id }) => id)).toEqual(['newer', 'older']);
    expect(withAlarm([newer], older, filter, true)).toEqual([newer]);
    expect(withAlarm([newer], older, filter, false)).toEqual([newer, older]);
  });
});

describe('until when an alarm is shelved', () => {
  it('is the next time of that name, and within a day', () => {
    const at = new Date(2026, 10, 25, 14, 0, 0).getTime();
    expect(nextTimeOfDay('14:30', at)).toBe(at + 30 * 60_000);
    expect(nextTimeOfDay('14:00', at)).toBe(at + 24 * 3_600_000);
    expect(nextTimeOfDay('6:15', at)).toBe(at + (16 * 60 + 15) * 60_000);
    for (const text of ['', '24:00', '7', '14:60', '14.30']) expect(nextTimeOfDay(text, at), text).toBeNull();
  });
});
