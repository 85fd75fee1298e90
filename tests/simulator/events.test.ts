import { describe, expect, test } from 'vitest';
import { planCarriage } from '../../services/simulator/carriage-plan.js';
import { scriptRun } from '../../services/simulator/run-script.js';
import type { RunEvent } from '../../services/simulator/run-event.js';
import { simulatedProcedures } from '../../services/simulator/simulated-procedures.js';
import type { Item } from '../../shared/weld/items/item.js';
import { blocks, mean, playEvent, playRun, reading, readings } from './played-run.js';

function eventOf<K extends RunEvent['kind']>(event: RunEvent, kind: K): Extract<RunEvent, { kind: K }> {
  if (!isKind(event, kind)) throw new Error(`the run is ${event.kind}`);
  return event;
}
function isKind<K extends RunEvent['kind']>(event: RunEvent, kind: K): event is Extract<RunEvent, { kind: K }> {
  return event.kind === kind;
}

const between = (items: readonly Item[], from: number, to: number): Item[] =>
  items.filter((item) => reading(item, 'travel') >= from && reading(item, 'travel') < to);

describe.each([1, 2, 3])('carriage c%i', (index) => {
  const plan = planCarriage(index, readings.seed);
  const lead = plan.arcs[0];
  if (lead === undefined) throw new Error('a carriage has an arc');
  const windows = simulatedProcedures.find((procedure) => procedure.id === plan.procedure)?.runGroups[0];
  if (windows === undefined) throw new Error('the procedure is there');

  test('the voltage drifts by what the script says, out of its window, and comes back', () => {
    const run = playEvent('voltageDrift', index, readings);
    const event = eventOf(run.script.event, 'voltageDrift');
    const items = run.items.filter((item) => item.arc === 1);
    const voltage = (from: number, to: number): number => mean(between(items, from, to).map((item) => reading(item, 'voltage')));
    // Slow noise of 0.2 V with 0.8 s of memory: a mean over some 15 s is good to about 0.1 V.
    expect(Math.abs(voltage(event.from - 120, event.from) - lead.voltage)).toBeLessThan(0.3);
    const drifted = voltage(event.to, event.until);
    expect(Math.abs(drifted - lead.voltage - event.rise)).toBeLessThan(0.3);
    expect(drifted).toBeGreaterThan(windows.arcs[0].voltage.max);
    const half = (event.from + event.to) / 2;
    expect(Math.abs(voltage(half - 40, half + 40) - lead.voltage - event.rise / 2)).toBeLessThan(0.4);
    expect(voltage(event.until + 2, event.until + 122)).toBeLessThan(windows.arcs[0].voltage.max);
  });

  test('the carriage slips for as long and as much as the script says', () => {
    const run = playEvent('speedSlip', index, readings);
    const event = eventOf(run.script.event, 'speedSlip');
    const items = run.items.filter((item) => item.arc === 1 && reading(item, 'current') > 100).slice(10);
    const slow = items.filter((item) => reading(item, 'travelSpeed') < 0.8 * plan.travelSpeed);
    expect(Math.abs(slow.length / 10 - event.seconds)).toBeLessThanOrEqual(0.3);
    expect(reading(slow[0] ?? fail(), 'travel')).toBeGreaterThanOrEqual(event.from);
    expect(reading(slow[0] ?? fail(), 'travel')).toBeLessThan(event.from + 5);
    const share = mean(slow.slice(5).map((item) => reading(item, 'travelSpeed'))) / plan.travelSpeed;
    expect(Math.abs(share - event.share)).toBeLessThan(0.02);
    expect(share * plan.travelSpeed).toBeLessThan(windows.travelSpeed.min);
    // Slower than a fifth of the lower limit would be a carriage that stands.
    expect(share * plan.travelSpeed).toBeGreaterThan(0.2 * windows.travelSpeed.min);
  });

  test.each([readings, blocks])('the arc is lost and lit again with the overlap that the script says (block $block)', (sending) => {
    const run = playEvent('arcLoss', index, sending);
    const event = eventOf(run.script.event, 'arcLoss');
    const items = run.items.filter((item) => item.arc === 1);
    const lit = items.map((item) => Math.abs(reading(item, 'current')) > 40);
    const changes = lit.flatMap((on, place) => (place > 0 && on !== lit[place - 1] ? [place] : []));
    expect(changes).toHaveLength(4);
    const at = (change: number): Item => items[changes[change] ?? -1] ?? fail();
    const [stopped, restarted] = [reading(at(1), 'travel'), reading(at(2), 'travel')];
    expect(stopped).toBeGreaterThanOrEqual(event.from);
    expect(stopped).toBeLessThan(event.from + 2);
    expect(stopped - restarted).toBeCloseTo(event.overlap, 2);
    const dark = ((at(2).time ?? 0) - (at(1).time ?? 0)) / 1e6;
    expect(dark).toBeGreaterThan(8);
    expect(dark).toBeLessThan(15);
    // It coasted on, and was driven back.
    expect(Math.max(...items.slice(changes[1], changes[2]).map((item) => reading(item, 'travel')))).toBeGreaterThan(stopped + 3);
    expect(Math.min(...items.map((item) => reading(item, 'travelSpeed')))).toBeLessThan(-500);
  });

  test('the carriage is silent for the seconds the script says and goes on with the next seq', () => {
    const run = playEvent('silence', index, readings);
    const event = eventOf(run.script.event, 'silence');
    const items = run.items.filter((item) => item.arc === 1);
    const gaps = items.flatMap((item, place) => {
      const seconds = ((item.time ?? 0) - (items[place - 1]?.time ?? item.time ?? 0)) / 1e6;
      return seconds > 0.15 ? [{ place, seconds }] : [];
    });
    expect(gaps).toHaveLength(1);
    const gap = gaps[0] ?? fail();
    expect(gap.seconds).toBeCloseTo(event.seconds + 0.1, 3);
    const [before, after] = [items[gap.place - 1] ?? fail(), items[gap.place] ?? fail()];
    expect((after.seq ?? 0) - (before.seq ?? 0)).toBe(1);
    // The arc burnt on all the while, and the carriage travelled.
    expect(Math.min(reading(before, 'current'), reading(after, 'current'))).toBeGreaterThan(400);
    const expected = (plan.travelSpeed / 60) * gap.seconds;
    expect(Math.abs((reading(after, 'travel') - reading(before, 'travel')) / expected - 1)).toBeLessThan(0.02);
  });
});

test('every run ends dark with the carriage at rest, and is followed by the next assignment', () => {
  const seen = new Set<string>();
  for (let cycle = 0; cycle < 6; cycle += 1) {
    const run = playRun(1, cycle, readings);
    const end = run.items.slice(-100);
    expect(end.every((item) => item.current === 0 && item.voltage === 0 && item.travelSpeed === 0 && item.wireFeedSpeed === 0)).toBe(true);
    const assignment = JSON.parse(run.assignment.payload) as { seam: string; run: number; simulated: boolean; time: number };
    expect(run.assignment.retain).toBe(true);
    expect(assignment.simulated).toBe(true);
    expect(assignment.time * 1000).toBe(run.items[0]?.time);
    seen.add(`${assignment.seam} run ${String(assignment.run)}`);
  }
  expect(seen.size).toBe(6);
});

test('four carriages of the usual seed begin with four different scripts, and each plays all five', () => {
  const fate = (index: number, cycle: number): string => scriptRun(planCarriage(index, 1), cycle).event.kind;
  expect([1, 2, 3, 4, 5].map((index) => fate(index, 0))).toEqual(['good', 'voltageDrift', 'speedSlip', 'arcLoss', 'silence']);
  expect(new Set([0, 1, 2, 3, 4].map((cycle) => fate(3, cycle))).size).toBe(5);
});

function fail(): never {
  throw new Error('not there');
}
