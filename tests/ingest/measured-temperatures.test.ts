import { describe, expect, it } from 'vitest';
import { alarms, assign, before, call, carriage, checks, enter, missing, own, run, runs, sent, seq, setStart, start, weld, withdraw, useMeasuredCarriage } from './measured-carriage.js';

useMeasuredCarriage();

describe('a temperature entered at a carriage', () => {
  it('counts for the run that is lit next, by the clock of the carriage, if it was measured ahead and in time', async () => {
    await assign(2);
    weld(1, 0);
    // 20 minutes, 3 minutes and half a minute before: 260 °C is too old, 390 °C was measured behind the arc.
    await enter(260, before(1200));
    await enter(185, before(180));
    await enter(390, before(30), { place: 'behind' });
    weld(10);
    expect(checks(run())).toEqual([['preheat', 185, 'inside'], ['interpassTemperature', 185, 'inside']]);
    expect(run().temperatures?.map(({ value, used, from, seam }) => [value, used, from, seam])).toEqual([[260, false, 'entered', 'S'], [185, true, 'entered', 'S'], [390, false, 'entered', 'S']]);
    expect([missing(run()), alarms()]).toEqual([[], []]);
  });

  it('does not count for the run after that', async () => {
    await assign(2);
    weld(1, 0);
    await enter(150, before(10));
    weld(10);
    weld(2, 0);
    await assign(3);
    weld(10);
    expect(runs().map(checks)).toEqual([[['preheat', 150, 'inside'], ['interpassTemperature', 150, 'inside']], [['preheat', null, 'notMeasured'], ['interpassTemperature', null, 'notMeasured']]]);
    expect(missing(run(1))).toEqual(['preheatMeasured notEntered procedure', 'interpassMeasured notEntered procedure']);
    expect(run(1).temperatures).toEqual([]);
  });

  it.each([3_600, -86_400, 7 * 365 * 86_400])('is taken to be measured now by a clock that is %d s behind, where no time is given', async (behind) => {
    setStart(start - behind * 1e3);
    await assign(2);
    weld(1, 0);
    await enter(150, null);
    weld(5);
    expect(checks(run())).toEqual([['preheat', 150, 'inside'], ['interpassTemperature', 150, 'inside']]);
    expect(Date.parse(run().startedAt) - Date.parse(run().temperatures?.[0]?.at ?? '')).toBeLessThan(2_000);
  });

  it('may be entered before anybody has heard of the carriage, and survives a restart', async () => {
    await enter(150, null, { seam: null });
    own.restart('killed');
    await assign(2);
    weld(10);
    expect(checks(run())).toEqual([['preheat', 150, 'inside'], ['interpassTemperature', 150, 'inside']]);
    expect(run().temperatures).toMatchObject([{ seam: null, by: 'Kim', withdrawn: null }]);
  });

  it('of another seam does not count', async () => {
    await assign(2);
    await enter(150, null, { seam: 'T' });
    weld(10);
    expect(checks(run())).toEqual([['preheat', null, 'notMeasured'], ['interpassTemperature', null, 'notMeasured']]);
  });

  it('is checked before the arc is lit as if it were lit now, until it is too old', async () => {
    await assign(1);
    expect(missing(carriage())).toEqual(['preheatMeasured notEntered procedure']);
    await enter(70, null);
    expect(missing(carriage())).toEqual(['preheatMeasured outside procedure']);
    await enter(90, null);
    expect(missing(carriage())).toEqual([]);
    own.clock.pass(299_900);
    expect(missing(carriage())).toEqual([]);
    own.clock.pass(300);
    expect(missing(carriage())).toEqual(['preheatMeasured notEntered procedure']);
  });

  it('that grew too old while the service was away is told so after its start', async () => {
    await assign(1);
    await enter(90, null);
    expect(missing(carriage())).toEqual([]);
    own.clock.pass(200_000);
    own.restart('stopped');
    own.clock.pass(2_000);
    expect(missing(carriage())).toEqual([]);
    own.clock.pass(100_000);
    expect(missing(carriage())).toEqual(['preheatMeasured notEntered procedure']);
  });
});

describe('a temperature outside its limits', () => {
  it('raises an alarm with the arc, which stands until the run is over and is no excursion', async () => {
    await assign(2);
    weld(1, 0);
    await enter(250, before(10));
    weld(1);
    expect(alarms()).toEqual([['interpassTemperature', 200, 250, 'unacknowledged', undefined]]);
    weld(10);
    weld(2, 0);
    expect([run().excursions, missing(run())]).toEqual([0, ['interpassMeasured outside procedure']]);
    expect(alarms()).toEqual([['interpassTemperature', 200, 250, 'unacknowledged', undefined]]);
    await assign(3);
    weld(2, 0);
    expect(alarms()).toEqual([['interpassTemperature', 200, 250, 'returned', undefined]]);
    expect(run().preparation?.missing.find(({ entry }) => entry === 'interpassMeasured')).toEqual({ entry: 'interpassMeasured', arc: null, reason: 'outside', value: 250, against: 'procedure', min: null, max: 200 });
  });

  it('raises it in the commit in which it is entered at the run, and another one inside withdraws it', async () => {
    await assign(2);
    weld(10);
    const at = { run: run().id };
    const wrong = await enter(250, before(10), {}, at);
    expect(alarms()).toEqual([['interpassTemperature', 200, 250, 'unacknowledged', undefined]]);
    expect(checks(run())).toEqual([['preheat', 250, 'inside'], ['interpassTemperature', 250, 'outside']]);
    await enter(150, before(10), {}, at);
    expect(alarms()).toEqual([['interpassTemperature', 200, 250, 'normal', 'remeasured']]);
    weld(5);
    expect(checks(run())).toEqual([['preheat', 150, 'inside'], ['interpassTemperature', 150, 'inside']]);
    await enter(70, before(15), {}, at);
    expect(alarms()).toEqual([['interpassTemperature', 200, 250, 'normal', 'remeasured'], ['preheat', 80, 70, 'unacknowledged', undefined]]);
    await withdraw(wrong, at);
    expect(run().temperatures?.find(({ id }) => id === wrong)?.withdrawn).toMatchObject({ by: 'Lee' });
    weld(5);
    expect(alarms()).toHaveLength(2);
  });

  it('is another alarm if the same value counts again, and survives kills and late items without a further one', async () => {
    await assign(2);
    weld(1, 0);
    const hot = await enter(250, before(10));
    const lit = seq;
    weld(3);
    const late = seq;
    sent(seq + 20);
    own.clock.pass(2_000);
    weld(8);
    own.restart('killed');
    own.send(start, late, late + 20);
    weld(1);
    own.clock.pass(2_000);
    expect(alarms()).toEqual([['interpassTemperature', 200, 250, 'unacknowledged', undefined]]);
    await withdraw(hot);
    expect(alarms()).toEqual([['interpassTemperature', 200, 250, 'normal', 'remeasured']]);
    await enter(250, before((seq - lit) / 10 + 1));
    const both = [['interpassTemperature', 200, 250, 'normal', 'remeasured'], ['interpassTemperature', 200, 250, 'unacknowledged', undefined]];
    expect(alarms()).toEqual(both);
    own.restart('stopped');
    weld(1);
    own.clock.pass(2_000);
    expect(alarms()).toEqual(both);
    expect(runs()).toHaveLength(1);
  });

  it('is not checked anew by a restart of the arc', async () => {
    await assign(2);
    weld(1, 0);
    await enter(250, before(10));
    weld(5);
    weld(2, 0);
    await enter(150, before(1));
    weld(5);
    expect([run().restarts.length, checks(run())]).toEqual([1, [['preheat', 250, 'inside'], ['interpassTemperature', 250, 'outside']]]);
  });
});

describe('the preheat of the preparation, and the sensor of the carriage', () => {
  it('counts with its time', async () => {
    await assign(1, { preparation: { preheatMeasured: 95, by: 'Kim', at: start * 1e3 - 250e6 } });
    weld(10);
    expect(checks(run())).toEqual([['preheat', 95, 'inside']]);
    expect(run().temperatures).toMatchObject([{ id: null, from: 'preparation', kind: 'preheat', value: 95, used: true, by: 'Kim' }]);
  });

  it('is listed, and does not count as long as nobody said where it measures', async () => {
    await assign(1);
    own.take('weld/hall/c1/readings', { boot: 'b1', seq: 0, time: start, current: 0, voltage: 0, plateTemperature: 60 });
    sent(1);
    weld(10);
    expect(run().temperatures).toMatchObject([{ id: null, from: 'sensor', kind: 'preheat', value: 60, at: new Date(start).toISOString(), place: null, used: false }]);
    expect(checks(run())).toEqual([['preheat', null, 'notMeasured']]);
  });

  it.each([['ahead', 'inside'], ['behind', 'notMeasured']] as const)('counts where it is declared to measure ahead: %s', async (plateTemperaturePlace, verdict) => {
    await call('declareSensors', 'hall', 'c1', { plateTemperaturePlace }, 'qa');
    await assign(1);
    own.take('weld/hall/c1/readings', { boot: 'b1', seq: 0, time: start, current: 0, voltage: 0, plateTemperature: 90 });
    sent(1);
    weld(10);
    expect(run().temperatures).toMatchObject([{ from: 'sensor', value: 90, place: plateTemperaturePlace, used: verdict === 'inside' }]);
    expect(checks(run())).toMatchObject([['preheat', verdict === 'inside' ? 90 : null, verdict]]);
  });
});

it('tells when a cooling plate will be ready, and why it does not know', async () => {
  await assign(2);
  weld(10);
  expect([carriage().readyAt, carriage().absent?.['readyAt']]).toEqual([null, 'an arc burns']);
  weld(3, 0);
  expect(carriage().absent?.['readyAt']).toBe('fewer than two temperatures were measured ahead since the arc went out');
  const out = before(0);
  // Limits of 200 and 80 °C in a shop of 20 °C: k = ln(280/232)/120 s; ln(232/180)/k = 161.921 s and ln(232/60)/k = 863.044 s after the second.
  const from = [await enter(300, out), await enter(252, out + 120e6)];
  const after = (time: string | null | undefined): number => (Date.parse(time ?? '') * 1e3 - out) / 1e6 - 120;
  expect(carriage().readyFrom).toEqual(from);
  expect(after(carriage().readyAt)).toBeCloseTo((Math.log(232 / 180) / Math.log(280 / 232)) * 120, 3);
  expect(after(carriage().readyUntil)).toBeCloseTo((Math.log(232 / 60) / Math.log(280 / 232)) * 120, 3);
});

it.each([
  ['no assignment is in force', null, 'no assignment is in force'],
  ['the assignment names no procedure', { seam: 'S', run: 3 }, 'the assignment names no procedure'],
  ['the procedure does not exist', { seam: 'S', run: 3, procedure: 'Q' }, 'the procedure Q does not exist'],
  ['the procedure has no limit for the run', { seam: 'S', run: 10, procedure: 'P' }, 'the procedure of the assignment in force has no such limit'],
])('tells that it does not know when a cooling plate will be ready as %s', async (_, assignment, why) => {
  await assign(2);
  weld(10);
  weld(3, 0);
  const out = before(0);
  await call('assign', 'hall', 'c1', assignment, { by: 'qa', reason: null });
  await enter(300, out, { seam: null });
  await enter(252, out + 120e6, { seam: null });
  expect([carriage().readyAt, carriage().readyUntil, carriage().absent]).toEqual([null, null, { t85: 'no arc burns', readyAt: why, readyUntil: why }]);
});

it('tells why a run that is being welded has no cooling time yet, as it does when the run is over', async () => {
  // The words are those of the finished run.
  await assign(2);
  weld(1, 0);
  expect([carriage().t85, carriage().absent?.['t85'], carriage().reasons?.['t85']]).toEqual([null, 'no arc burns', { code: 'arcOff' }]);
  weld(1);
  const unknown = 'the assignment names no thickness; no temperature before the arc was measured that counts, and the assignment declares no preheat';
  expect([carriage().t85, carriage().absent?.['t85']]).toEqual([null, unknown]);
  await assign(2, { thickness: 20 });
  weld(1);
  expect([carriage().t85, carriage().reasons?.['t85']]).toEqual([null, { code: 'coolingUnknown', missing: ['temperature'] }]);
  await assign(2, { thickness: 20, preheat: 500 });
  weld(3);
  expect([carriage().t85, carriage().reasons?.['t85']]).toEqual([null, { code: 'plateTooHot', temperature: 500 }]);
  await assign(2, { thickness: 20, preheat: 100 });
  weld(3);
  expect([carriage().t85?.temperature, carriage().absent?.['t85'], carriage().reasons?.['t85']]).toEqual([100, undefined, undefined]);
  await assign(3, { thickness: 20, preheat: 100 });
  weld(1);
  expect([carriage().t85, carriage().reasons?.['t85']]).toEqual([null, { code: 'shorter', length: 20 }]);
});
