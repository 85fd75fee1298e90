import { describe, expect, it } from 'vitest';
import { alarms, assign, before, call, checks, enter, own, run, runs, sent, seq, start, weld, withdraw, useMeasuredCarriage } from './measured-carriage.js';

useMeasuredCarriage();

describe('a temperature of a finished run', () => {
  it('evaluates it anew, raises nothing, and may be withdrawn', async () => {
    await assign(2);
    weld(10);
    weld(1, 0);
    await assign(3);
    weld(2, 0);
    const { id, version, energy } = run();
    expect([run().state, version]).toEqual(['finished', 1]);
    const measured = await enter(250, Date.parse(run().startedAt) * 1e3 - 5e6, {}, { run: id });
    expect([run().version, checks(run()), run().energy]).toEqual([2, [['preheat', 250, 'inside'], ['interpassTemperature', 250, 'outside']], energy]);
    expect(run().revisedAt).not.toBe(null);
    // Long after, when no late item could revise it.
    own.clock.pass(2_000_000);
    own.restart('stopped');
    await withdraw(measured, { run: id });
    expect([run().version, checks(run()), run().energy]).toEqual([3, [['preheat', null, 'notMeasured'], ['interpassTemperature', null, 'notMeasured']], energy]);
    await withdraw(measured, { run: id });
    expect([run().version, alarms()]).toEqual([3, []]);
  });

  it('may have been entered at its carriage afterwards', async () => {
    await assign(2);
    weld(10);
    weld(1, 0);
    await assign(3);
    weld(2, 0);
    await enter(150, Date.parse(run().startedAt) * 1e3, { seam: 'S' });
    expect([run().version, checks(run())]).toEqual([2, [['preheat', 150, 'inside'], ['interpassTemperature', 150, 'inside']]]);
  });

  it('stays with it where late items move its start, and where it is corrected', async () => {
    await assign(2);
    weld(1, 0);
    const first = seq;
    sent(seq + 20);
    own.clock.pass(2_000);
    weld(10);
    weld(1, 0);
    await assign(3);
    weld(2, 0);
    const at = Date.parse(run().startedAt) * 1e3;
    // Measured after the arc was really lit: when the first items come, it was not before the start.
    await enter(150, at, {}, { run: run().id });
    await enter(140, at - 2.5e6, {}, { run: run().id });
    expect(checks(run())).toEqual([['preheat', 150, 'inside'], ['interpassTemperature', 150, 'inside']]);
    own.send(start, first, first + 20);
    own.clock.pass(3_000);
    expect([runs().length, Date.parse(run().startedAt) * 1e3]).toEqual([1, at - 2e6]);
    expect(checks(run())).toEqual([['preheat', 140, 'inside'], ['interpassTemperature', 140, 'inside']]);
    await call('assignRun', run().id, { seam: 'S', run: 1, procedure: 'P' }, { by: 'qa', reason: 'it was the first' });
    expect(checks(run())).toEqual([['preheat', 140, 'inside']]);
  });
});

it('leaves the alarms of a finished run as they were, whatever is entered or withdrawn afterwards', async () => {
  await assign(2);
  weld(1, 0);
  await enter(250, before(10));
  weld(5);
  const at = { run: run().id };
  const right = await enter(150, before(5), {}, at);
  expect(alarms()).toEqual([['interpassTemperature', 200, 250, 'normal', 'remeasured']]);
  weld(1, 0);
  await assign(3);
  weld(1, 0);
  await withdraw(right, at);
  expect(checks(run())).toEqual([['preheat', 250, 'inside'], ['interpassTemperature', 250, 'outside']]);
  own.clock.pass(3_000);
  weld(1, 0);
  expect(alarms()).toEqual([['interpassTemperature', 200, 250, 'normal', 'remeasured']]);
});
