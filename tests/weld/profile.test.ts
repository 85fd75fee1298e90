import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Item } from '../../shared/weld/items/item.js';
import { profile } from '../../shared/weld/along/profile.js';
import type { ProfileInput } from '../../shared/weld/along/profile.js';
import { binColumns, profileBins, wayColumns } from '../../shared/weld/along/profile-bins.js';
import type { ArcColumn, RunColumn } from '../../shared/weld/rows/row.js';
import { noProcedure, runParameters } from '../../shared/weld/procedure/zone.js';
import { stretchOf } from '../named-rows.js';
import { foldedRows } from '../traces/folded-rows.js';
import type { FoldedRows } from '../traces/folded-rows.js';

const start = 1_700_000_000_000_000;
type Sent = Partial<Item> & { readonly time: number };

/** Readings every 100 ms from `from` up to and with `to` (s). */
function readings(from: number, to: number, current: number, voltage: number, travelSpeed: number, more: { readonly arc?: number } = {}): Sent[] {
  const count = Math.round((to - from) * 10) + 1;
  return Array.from({ length: count }, (_, n) => ({ time: start + Math.round(from * 1e6) + n * 100_000, current, voltage, travelSpeed, ...more }));
}

function stretches({ arcs }: FoldedRows): ProfileInput['arcs'] {
  return arcs.map(({ arc, rows }) => ({ arc, stretches: [stretchOf<ArcColumn>(rows, binColumns)] }));
}

function input(rows: FoldedRows, more: Partial<ProfileInput> = {}): ProfileInput {
  return { bin: 10, offsets: {}, arcs: stretches(rows), runRows: [stretchOf<RunColumn>(rows.run, wayColumns)], startOffset: 0, direction: 1, thermalEfficiency: 1, cooling: runParameters(null, noProcedure).cooling, zones: [], ...more };
}

describe('profile along the seam', () => {
  // 600 A, 30 V, 550 mm/min: U·I·60 / (v·1000) = 1.963636 kJ/mm by EN 1011-1; a lecture text on submerged arc welding prints "approx. 20 kJ/cm".
  const steady = foldedRows([...readings(0, 60, 600, 30, 550), ...readings(60.1, 62, 0, 0, 0)]);

  it('gives every full bin of a steady run the heat input of EN 1011-1', () => {
    const p = profile(input(steady));
    // 60.1 s at 550 mm/min are 550.917 mm.
    expect(p.travelled).toEqual(Array.from({ length: 56 }, (_, n) => n * 10));
    for (const [n, heatInput] of p.heatInput.entries()) expect(heatInput, `bin ${n}`).toBeCloseTo(1.963636, 6);
    expect(p.current.every((value) => Math.abs((value ?? 0) - 600) < 1e-9)).toBe(true);
    expect(p.voltage.every((value) => Math.abs((value ?? 0) - 30) < 1e-9)).toBe(true);
    expect(p.travelSpeed.every((value) => Math.abs((value ?? 0) - 550) < 1e-6)).toBe(true);
    expect(p.covered.slice(0, 55).every((share) => Math.abs(share - 1) < 1e-9)).toBe(true);
    expect(p.covered[55]).toBeCloseTo(0.0917, 4);
  });

  it('counts positions from the datum and takes the thermal efficiency in', () => {
    const p = profile(input(steady, { startOffset: 6060, direction: -1, thermalEfficiency: 0.8 }));
    expect(p.seamPosition.slice(0, 3)).toEqual([6060, 6050, 6040]);
    expect(p.heatInput[20]).toBeCloseTo(0.8 * 1.963636, 6);
  });

  it('gives every bin the cooling time by its own heat input', () => {
    // EN 1011-2, annex D: 1.963636 kJ/mm, 100 °C, 20 mm: 15.7026 s, two-dimensional (worked out in tests/weld/cooling/cooling-time.test.ts).
    const cooling = { thickness: 20, f2: 1, f3: 1, temperature: { value: 100, from: 'declared' as const } };
    const p = profile(input(steady, { cooling }));
    expect(p.t85).toHaveLength(56);
    for (const value of p.t85) expect(value).toBeCloseTo(15.7026, 4);
    expect(profile(input(steady, { cooling: { ...cooling, thickness: null } })).t85.every((value) => value === null)).toBe(true);
    expect(profile(input(steady)).t85.every((value) => value === null)).toBe(true);
  });

  it('says which zone each bin was reached in', () => {
    const zones = [
      { zone: 'ignition' as const, from: start, to: start + 2_000_000 },
      { zone: 'weld' as const, from: start + 2_000_000, to: start + 58_100_000 },
      { zone: 'crater' as const, from: start + 58_100_000, to: start + 60_100_000 },
    ];
    const p = profile(input(steady, { zones }));
    // 2 s are 18.33 mm, 58.1 s are 532.58 mm: bins 0 and 1 are begun before, bins from 54 on after.
    expect(p.zone).toEqual([...Array<string>(2).fill('ignition'), ...Array<string>(52).fill('weld'), ...Array<string>(2).fill('crater')]);
    expect(profile(input(steady)).zone[3]).toBeNull();
  });

  it('sums the arcs at each place, whenever they came there', () => {
    // Lead DC 700 A 32 V, trail AC sine 550 A 36 V RMS lagging 20°, 900 mm/min, trail 60 mm behind, each over plate 0 to 1,000 mm:
    // 22,400 W + 550·36·cos 20° W = 41,005.914 W over 15 mm/s are 2.733728 kJ/mm (exact mathematics).
    const sine = (peak: number, lag: number): number[] => Array.from({ length: 100 }, (_, k) => peak * Math.sin((2 * Math.PI * (k + 0.5)) / 20 - lag));
    const current = sine(550 * Math.SQRT2, (20 * Math.PI) / 180);
    const voltage = sine(36 * Math.SQRT2, 0);
    const items: Sent[] = [];
    for (let n = 0; n < 720; n += 1) {
      const block = { time: start + n * 100_000, interval: 1, count: 100, travelSpeed: 900 };
      const leads = n * 1.5 < 1000;
      const trails = n * 1.5 - 60 >= 0 && n * 1.5 - 60 < 1000;
      items.push({ ...block, arc: 1, current: leads ? 700 : 0, voltage: leads ? 32 : 0 });
      items.push({ ...block, arc: 2, current: trails ? current : 0, voltage: trails ? voltage : 0 });
    }
    const rows = foldedRows(items.map((item, n) => ({ ...item, seq: Math.floor(n / 2) })));
    const p = profile(input(rows, { offsets: { 2: 60 } }));
    const at30 = p.travelled.indexOf(30);
    expect(p.heatInput[at30]).toBeCloseTo(2.733728, 6);
    for (let place = 0; place < 1000; place += 10) expect(p.heatInput[p.travelled.indexOf(place)], `at ${place} mm`).toBeCloseTo(2.733728, 6);
    const both = profileBins(input(rows, { offsets: { 2: 60 } })).find((bin) => bin.number === 3);
    expect(both?.arcs.map((content) => content.arc)).toEqual([1, 2]);
    expect((both?.arcs[0]?.energy ?? 0) + (both?.arcs[1]?.energy ?? 0)).toBeCloseTo(27_337.28, 1);
    expect(p.current[at30], 'of arc 1').toBeCloseTo(700, 6);
    // Arc 2 by itself: the judged values of an alternating arc are its RMS.
    const trail = profile(input(rows, { offsets: { 2: 60 }, arcs: stretches(rows).filter(({ arc }) => arc === 2) }));
    expect(trail.current[3]).toBeCloseTo(550, 6);
    expect(trail.voltage[3]).toBeCloseTo(36, 6);
  });

  describe('where the carriage goes back and welds over the end', () => {
    // 10.1 s at 600 mm/min: 101 mm; 2 s back in the dark at 600 mm/min: to 81 mm; on again.
    const rows = foldedRows([
      ...readings(0, 10, 600, 30, 600), ...readings(10.1, 12, 0, 0, -600), ...readings(12.1, 20, 600, 30, 600), ...readings(20.1, 22, 0, 0, 0),
    ]);
    const p = profile(input(rows));

    it('gives two passages, never added', () => {
      const entries = (place: number): number[] => p.travelled.flatMap((at, n) => (at === place ? [n] : []));
      expect([70, 80, 90, 100, 110].map((place) => entries(place).length)).toEqual([1, 2, 2, 2, 1]);
      for (const heatInput of p.heatInput) expect(heatInput).toBeCloseTo(1.8, 6);
      expect(entries(80).map((n) => p.covered[n]?.toFixed(6))).toEqual(['1.000000', '0.900000']);
      expect(entries(100).map((n) => p.covered[n]?.toFixed(6))).toEqual(['0.100000', '1.000000']);
    });

    it('puts them in the order in which they were reached', () => {
      expect(p.travelled.slice(8, 15)).toEqual([80, 90, 100, 80, 90, 100, 110]);
    });
  });

  it('treats going back by less than 1 mm as the same passage', () => {
    // 0.05 s back at 600 mm/min are 0.5 mm.
    const rows = foldedRows([
      ...readings(0, 10, 600, 30, 600), { time: start + 10_100_000, current: 600, voltage: 30, travelSpeed: -600 },
      { time: start + 10_150_000, current: 600, voltage: 30, travelSpeed: 600 }, ...readings(10.2, 15, 600, 30, 600), ...readings(15.1, 16, 0, 0, 0),
    ]);
    const { travelled } = profile(input(rows));
    expect(new Set(travelled).size).toBe(travelled.length);
  });

  it('gives three passages where the arc burns forward, back and forward again', () => {
    const rows = foldedRows([
      ...readings(0, 10, 600, 30, 600), ...readings(10.1, 15, 600, 30, -600), ...readings(15.1, 25, 600, 30, 600), ...readings(25.1, 26, 0, 0, 0),
    ]);
    const { travelled } = profile(input(rows));
    expect(travelled.filter((place) => place === 70)).toHaveLength(3);
    expect(travelled.filter((place) => place === 30)).toHaveLength(1);
  });

  it('leaves bins passed in a data gap without figures', () => {
    // Nothing from 10.0 to 15.0 s at 600 mm/min: the reading stands for 1 s, the gap is from 11 s (110 mm) to 15 s (150 mm).
    const rows = foldedRows([...readings(0, 10, 600, 30, 600), ...readings(15, 25, 600, 30, 600), ...readings(25.1, 28, 0, 0, 0)]);
    const p = profile(input(rows));
    expect(p.travelled).toEqual(Array.from({ length: 26 }, (_, n) => n * 10));
    for (const [n, place] of p.travelled.entries()) {
      const within = place >= 110 && place < 150;
      expect([place, p.covered[n]]).toEqual([place, within ? 0 : expect.closeTo(place === 250 ? 0.1 : 1, 6)]);
      expect([place, p.heatInput[n]]).toEqual([place, within ? null : expect.closeTo(1.8, 6)]);
      if (within) expect([p.current[n], p.voltage[n], p.travelSpeed[n]]).toEqual([null, null, null]);
    }
  });

  it('gives null where an arc burns without moving, and keeps the energy', () => {
    const rows = foldedRows([...readings(0, 5, 600, 30, 0), ...readings(5.1, 6, 0, 0, 0)]);
    const p = profile(input(rows));
    expect(p.travelled).toEqual([0]);
    expect([p.heatInput[0], p.covered[0], p.travelSpeed[0]]).toEqual([null, 0, 0]);
    expect(profileBins(input(rows))[0]?.arcs[0]?.energy).toBeCloseTo(18_000 * 5.1, 6);
  });

  it('neither loses nor doubles energy, time or length, whatever the bin and the motion', () => {
    const leg = fc.record({ seconds: fc.integer({ min: 1, max: 6 }), speed: fc.integer({ min: -900, max: 900 }), current: fc.constantFrom(0, 400, 612.4) });
    fc.assert(
      fc.property(fc.array(leg, { minLength: 1, maxLength: 6 }), fc.double({ min: 0.7, max: 60, noNaN: true }), (legs, bin) => {
        let from = 0;
        const items: Sent[] = readings(0, 1, 500, 30, 400);
        for (const { seconds, speed, current } of legs) {
          from += 10;
          items.push(...readings(from / 10 + 0.1, from / 10 + seconds, current, current > 0 ? 30 : 0, speed));
          from += 10 * seconds - 10;
        }
        const rows = foldedRows(items);
        const total = (pick: (row: FoldedRows['arc'][number]) => number): number => rows.arc.reduce((sum, row) => sum + (row.on > 0 ? pick(row) : 0), 0);
        const contents = profileBins(input(rows, { bin })).flatMap((one) => one.arcs);
        expect(contents.reduce((sum, one) => sum + one.energy, 0)).toBeCloseTo(total((row) => row.energy), 4);
        expect(contents.reduce((sum, one) => sum + one.on, 0)).toBeCloseTo(total((row) => row.on), 6);
        expect(contents.reduce((sum, one) => sum + one.length, 0)).toBeCloseTo(total((row) => row.length), 6);
        for (const content of contents) expect(content.length).toBeLessThan(2 * bin + 3);
      }),
      { numRuns: 60 },
    );
  });

  it.each([0, -10, Number.NaN, Infinity])('refuses a bin of %s mm', (bin) => {
    expect(() => profile(input(steady, { bin }))).toThrow(/bin must be a length in mm above 0/);
  });
});
