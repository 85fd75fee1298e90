import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import type { Measurement } from '../../../shared/weld/temperatures/measurement.js';
import { countingTemperature, runTemperatures, startTemperature, type RunTemperature, type TemperatureSources } from '../../../shared/weld/temperatures/run-temperatures.js';
import { firstSeed } from '../../seeds.js';
import { modelOfCounting } from './model-of-counting.js';

const seed = firstSeed();
/** Time of day, µs. */
const clock = (hours: number, minutes: number, seconds = 0): number => ((hours * 60 + minutes) * 60 + seconds) * 1e6;
const lit = clock(14, 0);
const age = 300e6;

let made = 0;
function measured(parts: Partial<Measurement>): Measurement {
  made += 1;
  return {
    id: `m${made}`, run: null, kind: 'interpass', value: 100, at: lit - 60e6, seam: null, place: 'ahead', seamPosition: null, distance: null, instrument: null, by: 'Kim', reason: null, entered: lit, withdrawn: null, ...parts,
  };
}

function sources(entered: readonly Measurement[], parts: Partial<TemperatureSources> = {}): TemperatureSources {
  return { begin: { start: lit, before: null, plate: null }, run: 'r1', assignment: { seam: 'S', run: 2 }, entered, platePlace: null, age, ...parts };
}

const counts = (...given: Parameters<typeof sources>): number | null => countingTemperature(runTemperatures(sources(...given)))?.value ?? null;
const seen = (temperatures: readonly RunTemperature[]): unknown[] => temperatures.map(({ from, value, used }) => [from, value, used]);

describe('the temperature that counts', () => {
  test('is the newest one ahead of the arc within the age', () => {
    // Lit at 14:00; 13:40 260 °C is too old, 13:59:30 390 °C was measured behind the arc.
    const entered = [measured({ at: clock(13, 40), value: 260 }), measured({ at: clock(13, 57), value: 185 }), measured({ at: clock(13, 59, 30), value: 390, place: 'behind' })];
    expect(counts(entered)).toBe(185);
    expect(seen(runTemperatures(sources(entered)))).toEqual([['entered', 260, false], ['entered', 185, true], ['entered', 390, false]]);
  });

  test.each([[0, true], [299.999999, true], [300, true], [300.000001, false], [-0.000001, false]])('taken %d s before the start counts: %s', (before, does) => {
    expect(counts([measured({ at: lit - before * 1e6, run: 'r1' })])).toBe(does ? 100 : null);
  });

  test('is of either kind, and of equal times the one entered last', () => {
    const at = lit - 1e6;
    expect(counts([measured({ at, value: 90, kind: 'interpass' }), measured({ at, value: 80, kind: 'preheat' })])).toBe(80);
    expect(counts([measured({ at, value: 80, kind: 'preheat' }), measured({ at, value: 90, kind: 'interpass' }), measured({ at: at - 1, value: 70 })])).toBe(90);
  });

  test('is not one that was withdrawn, which is listed still', () => {
    const entered = [measured({ value: 90, at: lit - 20e6 }), measured({ value: 80, at: lit - 10e6, withdrawn: { at: lit, by: 'Kim', reason: null } })];
    expect(seen(runTemperatures(sources(entered)))).toEqual([['entered', 90, true], ['entered', 80, false]]);
  });

  test('was entered at the run, or at the carriage for the first run that it lights from then on, on its seam', () => {
    const begin = { start: lit, before: lit - 100e6, plate: null };
    expect(counts([measured({ at: lit - 100e6 })], { begin })).toBe(null);
    expect(counts([measured({ at: lit - 99.999999e6 })], { begin })).toBe(100);
    // Entered at the run itself, it is for that run whatever was lit since.
    expect(counts([measured({ at: lit - 200e6, run: 'r1' })], { begin })).toBe(100);
    expect(counts([measured({ run: 'r0' })])).toBe(null);
    expect(counts([measured({ seam: 'S' })])).toBe(100);
    expect(runTemperatures(sources([measured({ seam: 'T' })]))).toEqual([]);
    expect(counts([measured({ seam: 'S' })], { assignment: null })).toBe(null);
    expect(counts([measured({ seam: 'T', run: 'r1' })])).toBe(100);
  });

  test('is for another run where it was taken after the start', () => {
    expect(runTemperatures(sources([measured({ at: lit + 1 })]))).toEqual([]);
    expect(seen(runTemperatures(sources([measured({ at: lit + 1, run: 'r1' })])))).toEqual([['entered', 100, false]]);
  });
});

describe('the carriage’s own sensor', () => {
  const plate = { at: lit - 5e6, value: 140 };
  const begin = { start: lit, before: null, plate };

  test('counts only if it measures ahead of the arc', () => {
    expect(counts([], { begin, platePlace: 'ahead' })).toBe(140);
    expect(counts([], { begin, platePlace: 'behind' })).toBe(null);
    expect(counts([], { begin })).toBe(null);
    expect(runTemperatures(sources([], { begin }))).toEqual([
      { id: null, kind: 'interpass', value: 140, at: plate.at, seam: 'S', place: null, seamPosition: null, distance: null, instrument: null, by: null, from: 'sensor', withdrawn: null, used: false },
    ]);
  });

  test('says preheat before run 1 and interpass before any other', () => {
    const kind = (run: number | null): unknown => runTemperatures(sources([], { begin, assignment: run === null ? null : { seam: 'S', run } }))[0]?.kind;
    expect([kind(1), kind(2), kind(null)]).toEqual(['preheat', 'interpass', 'interpass']);
  });

  test('gives way to what somebody entered for the same moment, and to what is newer', () => {
    expect(counts([measured({ at: plate.at, value: 141 })], { begin, platePlace: 'ahead' })).toBe(141);
    expect(counts([measured({ at: plate.at - 1, value: 141 })], { begin, platePlace: 'ahead' })).toBe(140);
  });
});

describe('the preheat of the preparation', () => {
  const prepared = (preparation: Assignment['preparation']): TemperatureSources['assignment'] => ({ seam: 'S', run: 1, preparation });

  test('counts at its time, and without one not at all', () => {
    expect(runTemperatures(sources([], { assignment: prepared({ preheatMeasured: 95, at: lit - age, by: 'Kim' }) }))).toEqual([
      { id: null, kind: 'preheat', value: 95, at: lit - age, seam: 'S', place: 'ahead', seamPosition: null, distance: null, instrument: null, by: 'Kim', from: 'preparation', withdrawn: null, used: true },
    ]);
    expect(counts([], { assignment: prepared({ preheatMeasured: 95, at: lit - age - 1 }) })).toBe(null);
    expect(runTemperatures(sources([], { assignment: prepared({ preheatMeasured: 95 }) }))).toEqual([]);
    expect(runTemperatures(sources([], { assignment: prepared({ at: lit }) }))).toEqual([]);
  });

  test('keeps its time where something else is entered later', () => {
    const confirmed = [{ entry: 'preheatMeasured', arc: null, value: 95, by: 'Kim', at: lit - 400e6 }] as const;
    expect(counts([], { assignment: prepared({ preheatMeasured: 95, at: lit - 10e6, confirmed }) })).toBe(null);
    expect(counts([], { assignment: prepared({ preheatMeasured: 96, at: lit - 10e6, confirmed }) })).toBe(96);
  });

  test('does not count for a second run under the same assignment', () => {
    const begin = { start: lit, before: lit - 10e6, plate: null };
    expect(counts([], { begin, assignment: prepared({ preheatMeasured: 95, at: lit - 20e6 }) })).toBe(null);
  });
});

test('a run starts from the temperature that counts, else from the declared one', () => {
  expect(startTemperature({ value: 120, kind: 'preheat' }, 20)).toEqual({ value: 120, from: 'preheat' });
  expect(startTemperature({ value: 120, kind: 'interpass' }, undefined)).toEqual({ value: 120, from: 'interpass' });
  expect(startTemperature(null, 0)).toEqual({ value: 0, from: 'declared' });
  expect(startTemperature(null, undefined)).toBe(null);
});

test('over several runs, what counts is what a plain walk through the shift finds', () => {
  // Few distinct moments, so that equal times, borders of the age and measurements at the very start of a run come up.
  const moment = fc.integer({ min: 0, max: 40 }).map((step) => lit + step * 50e6);
  const runs = fc.uniqueArray(moment, { minLength: 1, maxLength: 5 }).map((starts) => starts.sort((a, b) => a - b));
  const one = fc.record({
    at: moment, place: fc.constantFrom('ahead', 'behind'), seam: fc.constantFrom(null, 'S', 'T'), withdrawn: fc.constantFrom(null, null, { at: lit, by: 'Kim', reason: null }),
    run: fc.constantFrom(null, null, 'r0', 'r1', 'r2'), kind: fc.constantFrom('preheat', 'interpass'),
  });
  const seams = fc.array(fc.constantFrom('S', 'T', null), { minLength: 5, maxLength: 5 });
  const reached = new Set<string>();
  fc.assert(
    fc.property(runs, seams, fc.array(one, { maxLength: 12 }), fc.array(fc.option(moment), { minLength: 5, maxLength: 5 }), fc.constantFrom('ahead', 'behind', null), (starts, names, given, plates, platePlace) => {
      const entered = given.map((own, index) => measured({ ...own, value: index }));
      const welded = starts.map((start, index) => ({ id: `r${index}`, start, seam: names[index] ?? null }));
      const samples = plates.flatMap((at, index) => (at === null ? [] : [{ at, value: 1000 + index }]));
      const expected = modelOfCounting(welded, entered, platePlace === 'ahead' ? samples : [], age);
      welded.forEach(({ id, start, seam }, index) => {
        const before = starts[index - 1] ?? null;
        const plate = samples.filter(({ at }) => at <= start && (before === null || at > before)).sort((a, b) => a.at - b.at).at(-1) ?? null;
        const found = counts(entered, { begin: { start, before, plate }, run: id, assignment: seam === null ? null : { seam, run: index + 1 }, platePlace });
        // Two samples at one moment are the same for a person: the fold decides by their order, which plate-samples.test.ts checks.
        const same = found !== null && found >= 1000 ? samples.find(({ value }) => value === found)?.at : found;
        const other = expected[index] ?? null;
        expect(same, id).toBe(other !== null && other >= 1000 ? samples.find(({ value }) => value === other)?.at : other);
        reached.add(found === null ? 'none' : found >= 1000 ? 'sensor' : entered[found]?.run === null ? 'carriage' : 'run');
      });
    }),
    { seed, numRuns: 2000 },
  );
  expect([...reached].sort()).toEqual(['carriage', 'none', 'run', 'sensor']);
});
