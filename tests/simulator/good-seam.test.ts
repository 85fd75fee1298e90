import { describe, expect, test } from 'vitest';
import { planCarriage } from '../../services/simulator/carriage-plan.js';
import { meltedFeedSpeed } from '../../services/simulator/melting.js';
import { simulatedProcedures } from '../../services/simulator/simulated-procedures.js';
import { valueAt } from '../../shared/weld/items/item.js';
import type { Item } from '../../shared/weld/items/item.js';
import { blocks, mean, playEvent, playRun, reading, readings } from './played-run.js';

/** Readings of one arc from 3 s after it was lit to 1 s before it went out. */
function steady(items: readonly Item[], arc: number): Item[] {
  const on = items.filter((item) => item.arc === arc && Math.abs(valueAt(item.current, 0)) > 100);
  return on.slice(30, -10);
}

describe.each([1, 3, 4])('a good seam of carriage c%i', (index) => {
  const run = playEvent('good', index, readings);
  const plan = planCarriage(index, readings.seed);
  const setting = plan.arcs[0];
  if (setting === undefined) throw new Error('a carriage has an arc');
  const items = steady(run.items, 1);

  test('heat input from samples is that of the stated voltage, current and speed', () => {
    const first = items[0];
    const last = items.at(-1);
    if (first === undefined || last === undefined) throw new Error('nothing welded');
    // Energy over length (ASME IX QW-409.1(c)); every reading stands for 100 ms, the last for none of it.
    const energy = items.slice(0, -1).reduce((sum, item) => sum + reading(item, 'voltage') * reading(item, 'current') * 0.1, 0) / 1000;
    const heatInput = energy / (reading(last, 'travel') - reading(first, 'travel'));
    // U·I·60/(v·1000) kJ/mm (EN 1011-1) from what the carriage is set to.
    const stated = (setting.voltage * setting.current * 60) / (plan.travelSpeed * 1000);
    expect(Math.abs(heatInput / stated - 1)).toBeLessThan(0.005);
    const window = simulatedProcedures[0].runGroups[0].heatInput;
    expect(heatInput).toBeGreaterThan(window.min);
    expect(heatInput).toBeLessThan(window.max);
  });

  test('stays inside its windows, averaged over 1 s', () => {
    const group = simulatedProcedures[0].runGroups[0];
    for (let place = 0; place + 10 <= items.length; place += 1) {
      const second = items.slice(place, place + 10);
      const current = mean(second.map((item) => reading(item, 'current')));
      const voltage = mean(second.map((item) => reading(item, 'voltage')));
      const speed = mean(second.map((item) => reading(item, 'travelSpeed')));
      expect(current).toBeGreaterThan(group.arcs[0].current.min);
      expect(current).toBeLessThan(group.arcs[0].current.max);
      expect(voltage).toBeGreaterThan(group.arcs[0].voltage.min);
      expect(voltage).toBeLessThan(group.arcs[0].voltage.max);
      expect(speed).toBeGreaterThan(group.travelSpeed.min);
      expect(speed).toBeLessThan(group.travelSpeed.max);
    }
  });

  test('the wire is fed as fast as the current melts it', () => {
    const feed = mean(items.map((item) => reading(item, 'wireFeedSpeed')));
    const current = mean(items.map((item) => reading(item, 'current')));
    expect(Math.abs(feed / meltedFeedSpeed(current, setting) - 1)).toBeLessThan(0.01);
    for (const item of items) {
      // 0.3 % of feed noise and 0.2 % of the sensor, each at most 3.47 deviations.
      expect(Math.abs(reading(item, 'wireFeedSpeed') / meltedFeedSpeed(setting.current, setting) - 1)).toBeLessThan(0.018);
    }
  });

  test('the plate warms, and what is between the tabs is as long as assigned', () => {
    const temperatures = items.map((item) => reading(item, 'plateTemperature'));
    expect(mean(temperatures.slice(-20)) - mean(temperatures.slice(0, 20))).toBeGreaterThan(15);
    const assignment = JSON.parse(run.assignment.payload) as Record<string, number>;
    const lit = run.items.filter((item) => valueAt(item.current, 0) > 100);
    const end = run.items.find((item) => (item.seq ?? 0) > (lit.at(-1)?.seq ?? Infinity));
    if (end === undefined) throw new Error('the run ends dark');
    const length = Number(assignment.runOn) + Number(assignment.seamLength) + Number(assignment.runOff);
    // The last step may end up to one reading's travel beyond.
    expect(reading(end, 'travel')).toBeGreaterThanOrEqual(length);
    expect(reading(end, 'travel')).toBeLessThan(length + 1);
  });
});

test.each([readings, blocks, { ...readings, rate: 33 }])('travel is the integral of speed (%o)', (sending) => {
  const { items } = playRun(1, 3, sending);
  const period = sending.block ?? 1000 / sending.rate;
  let integral = 0;
  items.forEach((item, place) => {
    // The sent travel is rounded to a thousandth.
    expect(Math.abs(reading(item, 'travel') - integral)).toBeLessThan(0.002);
    integral += (reading(item, 'travelSpeed') * period) / 60_000;
    const next = items[place + 1];
    if (next !== undefined && sending.block !== null && typeof item.travel !== 'number') {
      const last = item.travel?.at(-1) ?? Number.NaN;
      expect(reading(next, 'travel') - last).toBeCloseTo(reading(item, 'travelSpeed') / 60_000, 2);
    }
  });
  expect(integral).toBeGreaterThan(500);
});

test('an alternating arc keeps its RMS values and its power in blocks', () => {
  const plan = planCarriage(2, blocks.seed);
  const trail = plan.arcs[1];
  if (trail === undefined) throw new Error('the tandem has two arcs');
  const items = steady(playEvent('good', 2, blocks).items, 2);
  const current = items.flatMap((item) => (typeof item.current === 'number' ? [] : [...item.current]));
  const voltage = items.flatMap((item) => (typeof item.voltage === 'number' ? [] : [...item.voltage]));
  const rms = (values: readonly number[]): number => Math.sqrt(mean(values.map((value) => value ** 2)));
  expect(Math.abs(mean(current)) / rms(current)).toBeLessThan(0.01);
  expect(Math.abs(rms(current) / trail.current - 1)).toBeLessThan(0.01);
  expect(Math.abs(rms(voltage) / trail.voltage - 1)).toBeLessThan(0.01);
  // A square wave in phase: true mean power is the product of the RMS values, here but for the noise.
  const power = mean(current.map((value, place) => value * (voltage[place] ?? Number.NaN)));
  expect(Math.abs(power / (rms(current) * rms(voltage)) - 1)).toBeLessThan(0.01);
  // 50 Hz: 20 samples a period at 1 kHz.
  const changes = current.filter((value, place) => place > 0 && value * (current[place - 1] ?? 0) < 0).length;
  expect(Math.abs(changes / (current.length / 10) - 1)).toBeLessThan(0.01);
});

test('the trailing arc of the tandem is lit and goes out one offset after the leading one', () => {
  const plan = planCarriage(2, readings.seed);
  const { items } = playEvent('good', 2, readings);
  const places = (arc: number): [number, number] => {
    const own = items.filter((item) => item.arc === arc);
    const on = own.map((item) => reading(item, 'current') > 100);
    const at = (place: number): number => reading(own[place] ?? items[0] ?? fail(), 'travel');
    return [at(on.indexOf(true)), at(on.lastIndexOf(true) + 1)];
  };
  const [leadOn, leadOut] = places(1);
  const [trailOn, trailOut] = places(2);
  const step = (plan.travelSpeed * 1.02) / 600;
  expect(trailOn - leadOn).toBeGreaterThanOrEqual(70);
  expect(trailOn - leadOn).toBeLessThan(70 + step);
  expect(Math.abs(trailOut - leadOut - 70)).toBeLessThan(step);
});

function fail(): never {
  throw new Error('no item');
}
