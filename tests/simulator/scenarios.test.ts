import { describe, expect, test } from 'vitest';
import { planScenario } from '../../services/simulator/scenarios.js';
import { blocks, mean, playPlan, reading, readings } from './played-run.js';
import { off, replayPlayed, trueArc } from './replayed-run.js';

/**
 * Blocks are judged in rows of 100 ms: the row in which an arc is lit, and that in which it goes out, count as a whole. So an arc may seem to burn up to
 * two rows too long, in which it travels 3 mm at most.
 */
const rows = { seconds: 0.2, travel: 3 };

/** Fast changes of the arcs' length leave this much of a mean over a minute or more: five times 0.03 %. */
const noise = 0.0015;

describe('a tandem whose trailing arc lags by 20°', () => {
  const plan = planScenario('alternating', blocks.seed);
  // Exact for sines.
  const powerFactor = Math.cos((20 * Math.PI) / 180);

  test('in blocks of 1 ms, heat input, RMS values and power of both arcs are the true ones', () => {
    const run = playPlan(plan, 0, blocks);
    const { figures } = replayPlayed(run);
    expect(figures.method).toBe('instantaneous');
    const [lead, trail] = [trueArc(run, 1), trueArc(run, 2)];
    // E/L of both arcs, added (EN 1011-1 for each; the energies of several arcs add).
    expect(off(figures.heatInput, lead.energy / lead.length + trail.energy / trail.length)).toBeLessThan(noise + rows.travel / lead.length);
    for (const [place, truth] of [lead, trail].entries()) {
      const arc = figures.arcs[place];
      expect(off(arc?.energy, truth.energy)).toBeLessThan(noise);
      expect(off(arc?.arcTime, truth.time)).toBeLessThan(rows.seconds / truth.time);
      expect(off(arc?.length, truth.length)).toBeLessThan(rows.travel / truth.length);
      // Fast changes are part of an RMS value: 30 A and 20 A of them add up to 0.09 %. What seems to be arc time without current takes off a half of its share.
      const longer = rows.seconds / truth.time / 2;
      expect(off(arc?.current?.rms, truth.currentRms)).toBeLessThan(0.001 + noise + longer);
      expect(off(arc?.voltage?.rms, truth.voltageRms)).toBeLessThan(0.001 + noise + longer);
    }
    const found = figures.arcs[1];
    const apparent = (found?.current?.rms ?? 0) * (found?.voltage?.rms ?? 0) * (found?.arcTime ?? 0);
    expect(off(((found?.energy ?? 0) * 1000) / apparent, powerFactor)).toBeLessThan(0.002 + noise);
    // As it is set: U·I·cos φ; the first moments after it is lit, at less, are a thousandth of it.
    const set = plan.arcs[1];
    expect(off(trail.energy / trail.time, ((set?.voltage ?? 0) * (set?.current ?? 0) * powerFactor) / 1000)).toBeLessThan(0.01);
  });

  test('readings of RMS meters make too much of its energy, by 1/cos φ, and the run says so', () => {
    const run = playPlan(plan, 0, readings);
    const { figures } = replayPlayed(run);
    expect(figures.method).toBe('average');
    expect(figures.flags).toContain('averageOfAlternating');
    expect(off(figures.arcs[0]?.energy, trueArc(run, 1).energy)).toBeLessThan(0.001 + noise);
    expect(off(figures.arcs[1]?.energy, trueArc(run, 2).energy / powerFactor)).toBeLessThan(0.001 + noise);
  });

  test('its signed samples swing about zero, 50 times a second, with the current 20° late', () => {
    const items = playPlan(plan, 0, blocks).items.filter((item) => item.arc === 2 && Array.isArray(item.current) && item.current.some((value) => value !== 0)).slice(30, 130);
    const samples = (name: 'current' | 'voltage'): number[] => items.flatMap((item) => (typeof item[name] === 'number' ? [] : [...item[name]]));
    // The phase of the fundamental, by its Fourier coefficients over 100 blocks of 5 whole periods.
    const phase = (values: readonly number[]): number => {
      const sum = (wave: (angle: number) => number): number => values.reduce((total, value, place) => total + value * wave((2 * Math.PI * place) / 20), 0);
      return Math.atan2(sum(Math.cos), sum(Math.sin));
    };
    const [current, voltage] = [samples('current'), samples('voltage')];
    expect(current).toHaveLength(10_000);
    expect(off(phase(voltage) - phase(current), (20 * Math.PI) / 180)).toBeLessThan(0.01);
    expect(Math.abs(mean(current))).toBeLessThan(5);
  });
});

describe.each([readings, blocks])('a ring that turns under its carriage (block $block)', (sending) => {
  const run = playPlan(planScenario('ring', sending.seed), 0, sending);
  const { assignment, figures } = replayPlayed(run);
  const circumference = Math.PI * (assignment.diameter ?? Number.NaN);
  const overlap = run.script.seam.ring?.overlap ?? Number.NaN;
  /** What it travels in 100 ms, mm, rounded up. */
  const step = 1;

  test('its run is one full turn and the overlap', () => {
    expect(assignment).toMatchObject({ motion: 'work', simulated: true, startOffset: 0, direction: 1 });
    expect(assignment.seamLength).toBeUndefined();
    const truth = trueArc(run, 1);
    // The arc goes out within a step of the end; the sent travel is rounded to a thousandth.
    expect(truth.length - circumference).toBeGreaterThanOrEqual(overlap);
    expect(truth.length - circumference).toBeLessThan(overlap + step);
    expect(Math.abs((figures.length ?? Number.NaN) - truth.length)).toBeLessThan(sending.block === null ? 0.01 : 2 * step);
    const degrees = (360 * (figures.length ?? Number.NaN)) / circumference;
    expect(Math.abs(degrees - 360 - (360 * overlap) / circumference)).toBeLessThan((360 * 2 * step) / circumference);
    // A visitor of the demo sees it whole.
    expect(truth.time).toBeGreaterThan(120);
    expect(truth.time).toBeLessThan(240);
  });

  test('what lies beyond the turn is excluded, with the first 2 s and 15 mm', () => {
    const lit = run.truth.find(({ arcs }) => arcs.length > 0)?.at ?? Number.NaN;
    const ignition = run.truth.find(({ at, travel }) => at - lit >= 2000 && travel >= 15)?.travel ?? Number.NaN;
    expect(Math.abs((figures.lengths?.excluded ?? Number.NaN) - ignition - ((figures.length ?? Number.NaN) - circumference))).toBeLessThan(2 * step);
    expect(figures.lengths?.outside).toBe(0);
    expect(Math.abs((figures.weldZone.length ?? Number.NaN) - (circumference - ignition))).toBeLessThan(2 * step);
  });

  test('the heat input is the true one', () => {
    const truth = trueArc(run, 1);
    expect(off(figures.heatInput, truth.energy / truth.length)).toBeLessThan(0.001 + noise);
  });
});

test('the second run of a ring goes around once more, the next ring is another seam', () => {
  const plan = planScenario('ring', readings.seed);
  const assignments = [0, 1, 2].map((cycle) => JSON.parse(playPlan(plan, cycle, readings).assignment.payload) as { seam: string; run: number; diameter: number });
  expect(assignments.map(({ run }) => run)).toEqual([1, 2, 1]);
  expect(assignments[0]?.seam).toBe(assignments[1]?.seam);
  expect(assignments[0]?.diameter).toBe(assignments[1]?.diameter);
  expect(assignments[2]?.seam).not.toBe(assignments[0]?.seam);
});

test('each scenario has a carriage, boot and seams of its own', () => {
  const runs = (['alternating', 'ring', 'extension'] as const).map((scenario) => playPlan(planScenario(scenario, readings.seed), 0, readings));
  for (const of of [
    runs.map((run) => run.messages[0]?.topic),
    runs.map((run) => run.items[0]?.boot),
    runs.map((run) => run.script.seam.seam),
  ]) expect(new Set(of).size).toBe(3);
  for (const run of runs) expect(reading(run.items.at(-1) ?? runs[0]?.items[0] ?? fail(), 'current')).toBe(0);
});

function fail(): never {
  throw new Error('no item');
}
