import { describe, expect, it } from 'vitest';
import { addToDrift, startDriftTrack } from '../../../shared/weld/ahead/drift-track.js';
import { findDrifts } from '../../../shared/weld/ahead/find-drifts.js';
import { forecastDrift } from '../../../shared/weld/ahead/forecast-drift.js';
import { addRow, startRunSums } from '../../../shared/weld/run/run-sums.js';
import type { RunSums } from '../../../shared/weld/run/run-sums.js';
import type { RunWindows } from '../../../shared/weld/procedure/run-windows.js';
import { noProcedure, runParameters } from '../../../shared/weld/procedure/zone.js';
import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import { seededRandom } from '../../model/seeded-random.js';
import { burningRows } from '../burning-rows.js';
import type { BurningRow } from '../burning-rows.js';

/*
 * Every expected value is worked out by hand: at 600 mm/min (10 mm/s) a value that drifts by `slope` per s is at the limit after (limit − value)/slope.
 * The least noise that is reckoned with, 0.05 % of the level, takes it there up to its threefold over the slope earlier. Drifts begin
 * at the middle of a second, so that the means of one second bend where the values do.
 */
const judging = { smoothing: 1e6, onDelay: 1e6, offDelay: 3e6, deadband: 0.05, heatInputLength: 50 };

function windows(arcs: RunWindows['arcs'], run: RunWindows['run'] = {}): RunWindows {
  return { arcs, run, ...judging };
}

function drifts(rows: readonly BurningRow[], judgedBy: RunWindows, assignment: Partial<Assignment> = {}): ReturnType<typeof findDrifts> {
  const parameters = runParameters({ seam: 'S-1', run: 1, ...assignment }, { ...noProcedure, windows: judgedBy });
  const sums: RunSums = startRunSums(parameters);
  // The ignition is over after 2 s; nothing behind it changes what is asked of the sums.
  for (const { rows: numbers, at } of rows.slice(0, 30)) addRow(sums, numbers, at);
  return findDrifts(rows.slice(-600), sums);
}

const voltage = windows({ 1: { voltage: { min: 28, max: 34 } } });
const welded = (seconds: number, volts: (time: number) => number, travelSpeed = 600) =>
  burningRows(seconds, (time) => ({ travelSpeed, arcs: [{ current: 600, voltage: volts(time), wireFeedSpeed: 1.25 }] }));

describe('a drift is told before its limit', () => {
  it('after a steady stretch, in s and mm', () => {
    // 31 V to 40.5 s, then +0.05 V/s: at 70 s it is 32.475 V, 30.5 s before 34 V, which are 305 mm; noise of 0.0155 V takes up to 0.9 s off
    const [own, ...others] = drifts(welded(70, (time) => 31 + 0.05 * Math.max(0, time - 40.5)), voltage);
    expect(others).toEqual([]);
    expect(own).toMatchObject({ arc: 1, quantity: 'voltage', limit: 34 });
    expect(own?.leavesIn).toBeGreaterThan(29.5);
    expect(own?.leavesIn).toBeLessThanOrEqual(30.55);
    expect(own?.leavesAfter).toBeCloseTo(10 * (own?.leavesIn ?? 0), 6);
  });

  it('towards the lower limit, of every quantity, the soonest first', () => {
    // All fall by 0.2 % of their first value a second from 30.5 s on, at 60 s by 5.9 %: heat input, as U·I/v, too. 8 %, 9 % and 10 % are reached 10.5, 15.5
    // and 20.5 s later; 14 % would be 40.5 s later, further away than anything that can be predicted after 29.5 s.
    const factor = (time: number): number => 1 - 0.002 * Math.max(0, time - 30.5);
    const rows = burningRows(60, (time) => ({
      travelSpeed: 600 * factor(time),
      arcs: [{ current: 600 * factor(time), voltage: 31 * factor(time), wireFeedSpeed: 1.25 * factor(time) }],
    }));
    const judgedBy = windows(
      { 1: { current: { min: 600 * 0.9 }, wireFeedSpeed: { min: 1.25 * 0.86 } } },
      { travelSpeed: { min: 600 * 0.91 }, heatInput: { min: ((600 * 31 * 60) / 600 / 1000) * 0.92 } },
    );
    const found = drifts(rows, judgedBy);
    expect(found.map(({ arc, quantity }) => [arc, quantity])).toEqual([[null, 'heatInput'], [null, 'travelSpeed'], [1, 'current']]);
    const expected = [10.5, 15.5, 20.5];
    found.forEach(({ leavesIn }, n) => {
      expect(leavesIn).toBeGreaterThan((expected[n] ?? 0) - 0.8);
      expect(leavesIn).toBeLessThanOrEqual((expected[n] ?? 0) + 0.06);
    });
    // From 0.941 to 0.91 of 10 mm/s for about 15 s
    const speed = found[1];
    expect(speed?.leavesAfter).toBeCloseTo(((0.941 + 0.91) / 2) * 10 * (speed?.leavesIn ?? 0), 1);
  });

  it('by the arc that it belongs to, electrode negative or not', () => {
    const rows = burningRows(70, (time) => ({ travelSpeed: 600, arcs: [{ current: 700, voltage: 31 }, { current: -600 - Math.max(0, time - 40.5), voltage: 33 }] }));
    const found = drifts(rows, windows({ 1: { current: { max: 720 } }, 2: { current: { max: 650 } } }));
    expect(found).toMatchObject([{ arc: 2, quantity: 'current', limit: 650 }]);
    // 629.5 A at 70 s, 20.5 s before 650 A
    expect(found[0]?.leavesIn).toBeGreaterThan(19.5);
    expect(found[0]?.leavesIn).toBeLessThanOrEqual(20.55);
  });
});

describe('nothing is told', () => {
  it('of steady values, and of none', () => {
    expect(drifts(welded(70, () => 33.9), voltage)).toEqual([]);
    expect(drifts([], voltage)).toEqual([]);
    const noise = seededRandom(3);
    expect(drifts(welded(70, () => 31 + noise.between(-1, 1)), voltage)).toEqual([]);
  });

  it('about a value that was set anew', () => {
    for (let step = 31; step < 69; step += 6) expect(drifts(welded(70, (time) => (time < step ? 31 : 33.5)), voltage), `at ${step} s`).toEqual([]);
  });

  it('about a drift that leads nowhere near a limit, or away from the only one', () => {
    expect(drifts(welded(70, (time) => 31 + 0.005 * Math.max(0, time - 40)), voltage)).toEqual([]);
    expect(drifts(welded(70, (time) => 31 + 0.05 * Math.max(0, time - 40)), windows({ 1: { voltage: { min: 28 } } }))).toEqual([]);
  });

  it('when the value is outside already', () => {
    expect(drifts(welded(115, (time) => 31 + 0.05 * Math.max(0, time - 40)), voltage)).toEqual([]);
  });

  it('about anything that would happen beyond the end of the weld', () => {
    // 300 mm more are needed; the seam ends 250 or 350 mm after the 700 that are welded
    const rows = welded(70, (time) => 31 + 0.05 * Math.max(0, time - 40));
    expect(drifts(rows, voltage, { seamLength: 950 })).toEqual([]);
    expect(drifts(rows, voltage, { seamLength: 1050 })).toHaveLength(1);
  });

  it('on the run-on tab and during arc start', () => {
    const rows = welded(30, (time) => 31 + 0.08 * time);
    expect(drifts(rows, voltage)).toHaveLength(1);
    expect(drifts(rows, voltage, { runOn: 280 })).toEqual([]);
    const ignited = (ignitionTime: number) => {
      const parameters = runParameters(null, { ...noProcedure, ignitionTime, windows: voltage });
      const sums = startRunSums(parameters);
      for (const { rows: numbers, at } of rows) addRow(sums, numbers, at);
      return findDrifts(rows, sums);
    };
    expect(ignited(2)).toHaveLength(1);
    expect(ignited(28)).toEqual([]);
    expect(ignited(40)).toEqual([]);
  });

  it('without a procedure', () => {
    const rows = welded(70, (time) => 31 + 0.05 * Math.max(0, time - 40));
    const sums = startRunSums(runParameters(null, noProcedure));
    for (const { rows: numbers, at } of rows) addRow(sums, numbers, at);
    expect(findDrifts(rows, sums)).toEqual([]);
  });
});

describe('the state of a quantity', () => {
  it('is plain data: a copy goes on as the first one does, and stays small', () => {
    const noise = seededRandom(11);
    const track = startDriftTrack();
    const value = (second: number): number => 31 + 0.03 * Math.max(0, second - 200) + noise.between(-0.1, 0.1);
    for (let second = 0; second < 230; second += 1) addToDrift(track, second, value(second) * 0.1, 0.1);
    const copy: unknown = JSON.parse(JSON.stringify(track));
    expect(copy).toEqual(track);
    const again = structuredClone(track);
    const values = Array.from({ length: 40 }, (_, n) => value(230 + n));
    for (const own of [track, again]) values.forEach((one, n) => {
      addToDrift(own, 230 + n, one * 0.1, 0.1);
    });
    expect(again).toEqual(track);
    expect(track.means).toHaveLength(60);
    const window = { min: 28, max: 34 };
    expect(forecastDrift(again, window, 270)).toEqual(forecastDrift(track, window, 270));
    expect(forecastDrift(track, window, 270)?.limit).toBe(34);
  });
});
