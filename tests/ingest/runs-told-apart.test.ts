import { describe, expect, it } from 'vitest';
import type { Sensors } from '../../shared/weld/procedure/sensors.js';
import { alarms, assign, before, call, checks, enter, own, place, run, runs, sent, seq, setStart, start, weld, withdraw, useMeasuredCarriage } from './measured-carriage.js';

useMeasuredCarriage();

const readings = (from: number, to: number, more: (k: number) => object): void => {
  own.take('weld/hall/c1/readings', Array.from({ length: to - from }, (_, k) => ({ boot: 'b1', seq: from + k, time: start + (from + k) * 100, ...more(from + k) })));
  own.clock.pass(3_000);
};

describe('a run and those around it', () => {
  it('keeps what was entered for it where late items show that another run came before it', async () => {
    own.take('weld/hall/c1/assignment', { seam: 'S', run: 2, procedure: 'P', time: start - 600_000 });
    own.take('weld/hall/c1/assignment', { seam: 'T', run: 2, procedure: 'P', time: start + 30_000 });
    // 16 s were welded on S, and not a word of it has come when the run on T, a minute later, is over.
    sent(600);
    weld(10);
    weld(1, 0);
    await assign(3);
    weld(2, 0);
    const { id } = run();
    await enter(155, (start + 50_000) * 1e3, {}, { run: id });
    expect([run().seam, run().version, checks(run())[1]]).toEqual(['T', 2, ['interpassTemperature', 155, 'inside']]);
    readings(0, 160, () => ({ current: 600, voltage: 30, travelSpeed: 550 }));
    own.clock.pass(3_000);
    expect(runs().map((each) => [each.seam, each.id === id, checks(each)[1]])).toEqual([['S', false, ['interpassTemperature', null, 'notMeasured']], ['T', true, ['interpassTemperature', 155, 'inside']]]);
  });

  it('has another version where a late sample from before it is the temperature that counts now', async () => {
    await call('declareSensors', 'hall', 'c1', { plateTemperaturePlace: 'ahead' } satisfies Sensors, 'qa');
    await assign(2);
    readings(0, 50, () => ({ current: 0, voltage: 0, travelSpeed: 0, plateTemperature: 140 }));
    sent(100);
    weld(10);
    weld(1, 0);
    await assign(3);
    weld(2, 0);
    expect([run().version, checks(run())[1]]).toEqual([1, ['interpassTemperature', 140, 'inside']]);
    readings(50, 100, () => ({ current: 0, voltage: 0, travelSpeed: 0, plateTemperature: 244 }));
    expect([run().version, checks(run())[1]]).toEqual([2, ['interpassTemperature', 244, 'outside']]);
    expect(run().revisedAt).not.toBe(null);
  });

  it.each(['turn', 'change of assignment'])('has no crater where the next one began under its burning arc by a %s, also when it is evaluated anew', async (by) => {
    // 50 mm round, at 550 mm/min, or 6 s: on the border of a row, where nothing but the change ends the run.
    setStart(Math.ceil(start / 1_000) * 1_000);
    if (by === 'turn') own.take('weld/hall/c1/assignment', { seam: 'S', run: 1, procedure: 'P', motion: 'work', diameter: 50 / Math.PI, turnIsRun: true, time: start });
    else for (const at of [0, 1, 2, 3]) own.take('weld/hall/c1/assignment', { seam: 'S', run: at + 1, procedure: 'P', time: start + at * 6_000 });
    weld(20);
    weld(2, 0);
    const { id, lengths, weldZone, state } = run(1);
    expect(state).toBe('finished');
    // So late that its rows are all there is.
    own.clock.pass(2_000_000);
    await enter(120, Date.parse(run(1).startedAt) * 1e3 - 1e6, { kind: 'preheat' }, { run: id });
    expect(run(1)).toMatchObject({ id, version: 2, lengths, weldZone });
  });
});

describe('an alarm of a temperature', () => {
  it('is a new one, which nobody has acknowledged, where a third measurement is outside again', async () => {
    await assign(1);
    weld(1, 0);
    await enter(70, before(20), { kind: 'preheat' });
    weld(3);
    const better = await enter(90, before(15), { kind: 'preheat' });
    await enter(75, before(12), { kind: 'preheat' });
    expect(alarms()).toEqual([['preheat', 80, 70, 'normal', 'remeasured'], ['preheat', 80, 75, 'unacknowledged', undefined]]);
    await withdraw(better);
    weld(1);
    expect(alarms()).toHaveLength(2);
  });

  it.each([9, 10, 11])('returns with its run where the job ends 100 ms after the last item, %d readings after the arc went out', async (extra) => {
    await enter(70, before(20), { kind: 'preheat', seam: null });
    await assign(1);
    weld(10);
    // Some readings more, so that the records were just written.
    own.send(start, seq, seq + extra, 0);
    sent(seq + extra);
    own.take(`weld/${place.site}/${place.carriage}/assignment`, { seam: null, time: start + seq * 100 });
    own.clock.pass(500);
    expect(run().state).toBe('finished');
    expect(own.records('alarms')).toMatchObject([{ quantity: 'preheat', worst: 70, state: 'returned', returnedAt: run().endedAt }]);
  });

  it('is raised although something else was written while its message was handled', async () => {
    await enter(70, before(20), { kind: 'preheat', seam: null });
    await assign(1);
    // So much at once that not all of it is folded in the commit that stores it; the call comes before the rest.
    let turned = 0;
    const { steady } = own.clock;
    Object.assign(own.clock, { steady: () => steady() + (turned += 3_000) });
    own.take('weld/hall/c1/readings', Array.from({ length: 900 }, (_, k) => ({ boot: 'b1', seq: k, time: start + k * 100, current: 600, voltage: 30, travelSpeed: 550 })));
    await call('addProcedure', 'Q', JSON.stringify({ id: 'Q', runGroups: [] }), 'qa', true);
    expect(alarms()).toEqual([['preheat', 80, 70, 'unacknowledged', undefined]]);
  });
});
