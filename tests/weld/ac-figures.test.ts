import { describe, expect, it } from 'vitest';
import { decodeReadings } from '../../shared/weld/decode/decode-readings.js';
import { densityList } from '../../shared/weld/rows/density.js';
import { timelineContext } from '../../shared/weld/run/assignment-timeline.js';
import { foldItem, settleFold, startFold } from '../../shared/weld/run/carriage-fold.js';
import type { ArcFigures } from '../../shared/weld/run/arc-figures.js';
import { judgedFigures, judgedSums, runMarks } from '../../shared/weld/run/run-figures.js';
import type { RunState } from '../../shared/weld/run/run-state.js';
import { orderItem } from '../../shared/weld/items/order.js';
import type { Sensors } from '../../shared/weld/procedure/sensors.js';
import { noProcedure } from '../../shared/weld/procedure/zone.js';
import { startRoom } from '../../shared/weld/rows/row-group.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';

const start = 1_795_590_000_000;

/** The run of 60 blocks of 100 ms; `at` gives current and voltage of the sample at a time in s. Sampled in the middle of each interval, so that whole waves have their exact means. */
function welded(at: (time: number) => readonly [current: number, voltage: number], { interval = 0.1, sensors = null as Sensors | null, blocks = 60 } = {}): RunState {
  const count = Math.round(100 / interval);
  const context = timelineContext([], defaultWeldSettings, () => noProcedure, sensors === null ? [] : [{ revision: 1, body: sensors, after: null, at: 0, by: 'qa' }]);
  const state = startFold();
  const sink = { room: startRoom(), row: () => undefined, began: () => undefined, finished: () => undefined };
  for (let block = 0; block < blocks; block += 1) {
    const samples = Array.from({ length: count }, (_, k) => at((block * 100 + (k + 0.5) * interval) / 1e3));
    const payload = JSON.stringify({ boot: 'b', seq: block, time: start + block * 100, interval, current: samples.map(([i]) => i), voltage: samples.map(([, u]) => u), travelSpeed: 900 });
    for (const entry of decodeReadings(new TextEncoder().encode(payload)).items) {
      if (entry.kind === 'refused') throw new Error(entry.reason);
      foldItem(state, orderItem(entry.item, 0, 0, block), context, sink);
    }
  }
  settleFold(state, context, sink);
  if (state.merge.run === null) throw new Error('nothing was welded');
  return state.merge.run;
}

function arcOf(run: RunState): ArcFigures {
  const marks = runMarks(run);
  const [own] = judgedFigures(marks, judgedSums(marks, run.sums)).arcs;
  if (own === undefined) throw new Error('no arc was on');
  return own;
}

const sine = (rms: number, time: number, lag = 0): number => rms * Math.SQRT2 * Math.sin(2 * Math.PI * 50 * time - (lag * Math.PI) / 180);
const square = (time: number, duty = 0.5): number => (((time * 50) % 1) < duty ? 1 : -1);

describe('an arc on alternating current', () => {
  // Exact waveforms: the mean power of sines is U·I·cos φ.
  it.each([[0, 1], [20, 0.9396926], [30, 0.8660254]])('sine lagging by %d°: the power factor is its cosine', (lag, factor) => {
    const { ac, energy, arcTime, ripple, reasons } = arcOf(welded((time) => [sine(550, time, lag), sine(36, time)]));
    expect(ac).toMatchObject({ currentRms: expect.closeTo(550, 6) as number, voltageRms: expect.closeTo(36, 6) as number, balance: expect.closeTo(0.5, 6) as number, currentOffset: expect.closeTo(0, 6) as number });
    expect(ac?.powerFactor).toBeCloseTo(factor, 6);
    expect((energy * 1e3) / arcTime).toBeCloseTo(550 * 36 * factor, 3);
    expect([ripple, reasons['ripple']]).toEqual([null, { code: 'alternatingCurrent' }]);
  });

  it('a square wave positive for 70 % of its time: balance 0.7, mean 0.4 of its height', () => {
    const { ac } = arcOf(welded((time) => [600 * square(time, 0.7), 30 * square(time, 0.7)]));
    expect(ac).toMatchObject({ currentRms: 600, voltageRms: 30, balance: expect.closeTo(0.7, 9) as number, currentOffset: expect.closeTo(240, 6) as number, powerFactor: expect.closeTo(1, 9) as number });
  });

  it('whose signs are not sent has no balance, offset and power factor, and its energy is said to be too great', () => {
    const rectified = (time: number): readonly [number, number] => [Math.abs(sine(550, time, 20)), Math.abs(sine(36, time))];
    const { ac, energy, arcTime, reasons } = arcOf(welded(rectified, { sensors: { arcs: [{ arc: 1, signedCurrent: false, signedVoltage: false }] } }));
    // By what was sent it is direct current, as no procedure says otherwise; its power is more than U·I·cos φ.
    expect([ac, reasons['ac']]).toEqual([null, { code: 'directCurrent' }]);
    expect((energy * 1e3) / arcTime).toBeGreaterThan(550 * 36 * Math.cos((20 * Math.PI) / 180) + 100);
    const both = arcOf(welded((time) => [sine(550, time, 20), sine(36, time)], { sensors: { arcs: [{ arc: 1, signedVoltage: false }] } }));
    expect(both.ac).toMatchObject({ balance: null, currentOffset: null, powerFactor: null });
    expect(both.reasons).toMatchObject({ energy: { code: 'rectified' }, 'ac.balance': { code: 'unsigned' }, 'ac.powerFactor': { code: 'unsigned' } });
    expect((both.energy * 1e3) / both.arcTime).toBeCloseTo(550 * 36 * Math.cos((20 * Math.PI) / 180), 3);
  });

  it('whose samples are 2 ms apart has RMS values alone', () => {
    const { ac, reasons } = arcOf(welded((time) => [sine(550, time, 20), sine(36, time)], { interval: 2 }));
    expect(ac).toMatchObject({ balance: null, currentOffset: null, powerFactor: null });
    expect(reasons['ac.powerFactor']).toMatchObject({ code: 'tooSlow', interval: 2 });
  });

  it('that gives energy back has no heat input, for that reason and not for its length', () => {
    // With one sensor the wrong way round, true power is U·I·cos 160°.
    const run = welded((time) => [sine(550, time, 160), sine(36, time)]);
    const { energy, length, heatInput, weldZone, reasons } = judgedFigures({ ...runMarks(run), finished: true }, judgedSums(runMarks(run), run.sums));
    expect(energy / 6).toBeCloseTo((550 * 36 * Math.cos((160 * Math.PI) / 180)) / 1e3, 6);
    expect([length, heatInput, weldZone.heatInput]).toEqual([expect.closeTo(90, 6), null, null]);
    expect([reasons['arcEnergy'], reasons['heatInput'], reasons['weldZone.heatInput']]).toEqual([{ code: 'noEnergy' }, { code: 'noEnergy' }, { code: 'noEnergy' }]);
  });

  it('counts as one from half of its time on', () => {
    const alternating = (share: number): ArcFigures['ac'] => arcOf(welded((time) => (time < 6 * share ? [600 * square(time), 30 * square(time)] : [600, 30]), { interval: 1 })).ac;
    expect([alternating(0.5) === null, alternating(0.4) === null]).toEqual([false, true]);
  });
});

describe('ripple of direct current', () => {
  // A square wave of 600 ± 30 A at 50 Hz differs from its mean by 30 A at all times: 30/600.
  it('of 600 ± 30 A is 0.05', () => {
    const { ripple, ac } = arcOf(welded((time) => [600 + 30 * square(time), 30], { interval: 1 }));
    expect([ripple, ac]).toEqual([expect.closeTo(0.05, 9), null]);
  });

  it('of a constant current is 0, of a slow drift nothing that a row can show', () => {
    expect(arcOf(welded(() => [600, 30], { interval: 1 })).ripple).toBe(0);
    expect(arcOf(welded((time) => [600 + Math.floor(time * 10), 30], { interval: 1 })).ripple).toBe(0);
  });

  it('is not given by samples more than 1 ms apart', () => {
    const { ripple, reasons } = arcOf(welded((time) => [600 + 30 * square(time), 30], { interval: 2 }));
    expect([ripple, reasons['ripple']]).toEqual([null, { code: 'tooSlow', source: 'both', interval: 2 }]);
  });
});

describe('the density of voltage and current', () => {
  it('has the time in each cell of 1 V and 10 A, in magnitudes', () => {
    // Half of the time 605 A and 30.5 V, half −594.9 A and −29.9 V.
    const run = welded((time) => (square(time) > 0 ? [605, 30.5] : [-594.9, -29.9]), { interval: 1 });
    expect(densityList(run.density[1] ?? new Map())).toEqual([[29, 59, expect.closeTo(3, 9)], [30, 60, expect.closeTo(3, 9)]]);
  });

  it('holds the arc-on time, is empty from readings and from samples further apart than 5 ms, and takes corrected voltage', () => {
    const held = (run: RunState): number => densityList(run.density[1] ?? new Map()).reduce((sum, [, , seconds]) => sum + seconds, 0);
    const run = welded((time) => [600 + 90 * Math.sin(time * 700), 30 + 4 * Math.cos(time * 300)], { interval: 5 });
    expect(held(run)).toBeCloseTo(arcOf(run).arcTime, 9);
    expect(welded(() => [600, 30], { interval: 10 }).density).toEqual({});
    const corrected = welded(() => [600, 34], { interval: 1, sensors: { arcs: [{ arc: 1, voltagePickup: 'source', cableResistance: 9.4 }] } });
    expect(densityList(corrected.density[1] ?? new Map())).toEqual([[28, 60, expect.closeTo(6, 9)]]);
  });
});
