import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { burningRows, type BurningArc } from './burning-rows.js';
import { figuresOfRows, wire } from './summed-weld.js';

/** kg of one pound and mm of one inch, exactly. */
const pound = 0.45359237;
const inch = 25.4;

const weld = (seconds: number, speed: number, arcs: readonly BurningArc[]) => burningRows(seconds, () => ({ travelSpeed: speed, arcs }));
const arc = (wireFeedSpeed?: number, number = 1): BurningArc => ({ arc: number, current: 600, voltage: 30, ...(wireFeedSpeed === undefined ? {} : { wireFeedSpeed }) });

describe('the deposit of a run', () => {
  it('is what was fed, melted and deposited', () => {
    // 4 mm at 1.2 m/min for 60 s over 600 mm: (π/4)·16e-6 m²·1.2 m·7850 kg/m³ = 0.1183752 kg; ·3600/60 s; /0.6 m. 600 A / 12.566 mm². 1080 kJ / 3600.
    const { deposit, electricity, arcs, absent } = figuresOfRows(weld(60, 600, [arc(1.2)]), { wires: { 1: wire({ diameter: 4 }) } });
    expect(deposit.wireLength).toBeCloseTo(1.2, 9);
    expect(deposit.wireMass).toBeCloseTo(0.118375, 6);
    expect(deposit.mass).toBe(deposit.wireMass);
    expect(deposit.rate).toBeCloseTo(7.102513, 6);
    expect(deposit.massPerLength).toBeCloseTo(0.197292, 6);
    expect(deposit.fluxMass).toBe(deposit.mass);
    expect(arcs[0]?.currentDensity).toBeCloseTo(47.746, 3);
    expect(electricity).toEqual({ energy: 0.3, duty: 1 });
    expect(Object.keys(absent).filter((name) => /deposit|electricity/.test(name))).toEqual([]);
  });

  it.each([
    // Conference slides on submerged arc process variations print 9.9 lb/h for 3/32 in at 85 in/min, and 19.8 for two of these wires; exact: 9.98 and 19.97.
    ['3/32 in at 85 in/min, lb/h', (85 * inch) / 1000, { diameter: (3 / 32) * inch }, 9.98 * pound, 0.01],
    ['two of these wires, lb/h', (85 * inch) / 1000, { diameter: (3 / 32) * inch, count: 2 }, 19.97 * pound, 0.01],
    // (π/4)·16e-6 m²·60 m/h·7850 kg/m³
    ['4 mm at 1 m/min, kg/h', 1, { diameter: 4 }, 5.91876, 0.000005],
    ['the same, of which 2 % are lost', 1, { diameter: 4, recovery: 0.98 }, 0.98 * 5.91876, 0.000005],
  ])('has the rate of %s', (_, feed, own, rate, within) => {
    const found = figuresOfRows(weld(30, 600, [arc(feed)]), { wires: { 1: wire(own) } }).deposit.rate ?? Number.NaN;
    expect(Math.abs(found - rate)).toBeLessThanOrEqual(within);
  });

  it('takes the diameter of the assignment before that of the procedure, and the flux by the procedure', () => {
    const rows = weld(60, 600, [arc(1.2)]);
    const { deposit } = figuresOfRows(rows, { wires: { 1: wire({ diameter: 4, recovery: 0.5 }) }, fluxRatio: 1.3 }, [{ arc: 1, wireDiameter: 2 }]);
    // A quarter of the cross-section, half of the metal.
    expect(deposit.wireMass).toBeCloseTo(0.118375 / 4, 6);
    expect(deposit.mass).toBeCloseTo(0.118375 / 8, 6);
    expect(deposit.fluxMass).toBeCloseTo((1.3 * 0.118375) / 8, 6);
    expect(figuresOfRows(rows, {}, [{ arc: 1, wireDiameter: 4 }]).deposit.wireMass).toBeCloseTo(0.118375, 6);
  });

  it('leaves data gaps out', () => {
    const rows = weld(60, 600, [arc(1.2)]).map((own, index) => (index < 300 || index >= 400 ? own : { ...own, run: { ...own.run, on: 0, gap: 0.1, length: 0, gapLength: 1 }, arcs: [] }));
    expect(figuresOfRows(rows, { wires: { 1: wire({ diameter: 4 }) } }).deposit.wireLength).toBeCloseTo(1, 9);
  });

  it('gives no part for the whole, and names the arcs', () => {
    const two = { wires: { 1: wire({ diameter: 4 }), 2: wire({}) } };
    const diameter = figuresOfRows(weld(10, 600, [arc(1.2), arc(1.5, 2)]), two);
    expect(diameter.deposit).toEqual({ wireLength: 0.45, wireMass: null, mass: null, rate: null, massPerLength: null, fluxMass: null });
    expect(diameter.absent['deposit.mass']).toBe('neither the assignment nor the procedure names the wireDiameter of arc 2');
    expect(diameter.reasons['deposit.rate']).toEqual({ code: 'diameterUnknown', arcs: [2] });
    // The feed of arc 2 is missing in one row of a hundred.
    const fed = burningRows(10, (time) => ({ travelSpeed: 600, arcs: [arc(1.2), arc(time > 5 && time < 5.1 ? undefined : 1.5, 2)] }));
    const feed = figuresOfRows(fed, { wires: { 1: wire({ diameter: 4 }), 2: wire({ diameter: 4 }) } });
    expect(Object.values(feed.deposit)).toEqual([null, null, null, null, null, null]);
    expect(feed.absent['deposit.wireLength']).toBe('wireFeedSpeed of arc 2 was not known for all of its arc time');
    expect(figuresOfRows(weld(10, 600, [arc(), arc(undefined, 2)])).reasons['deposit.fluxMass']).toEqual({ code: 'feedUnknown', arcs: [1, 2] });
  });

  it('gives no mass per length where there is no arc energy', () => {
    const short = figuresOfRows(weld(1, 600, [arc(1.2)]), { wires: { 1: wire({ diameter: 4 }) } });
    expect([short.deposit.massPerLength, short.reasons['deposit.massPerLength']]).toEqual([null, { code: 'shorter', length: 20 }]);
    expect(short.deposit.mass).toBeCloseTo(0.118375 / 60, 6);
  });

  const anArc = fc.record({ feed: fc.double({ min: 0.1, max: 9, noNaN: true }), diameter: fc.double({ min: 0.8, max: 6, noNaN: true }), count: fc.integer({ min: 1, max: 6 }), recovery: fc.double({ min: 0.5, max: 1, noNaN: true }) });

  it('is the sum of its arcs, grows with the number of wires, and is given for all arcs or not at all', () => {
    fc.assert(
      fc.property(fc.array(anArc, { minLength: 1, maxLength: 4 }), fc.integer({ min: 0, max: 3 }), (arcs, unknown) => {
        const of = (own: typeof arcs) => figuresOfRows(weld(5, 600, own.map(({ feed }, n) => arc(feed, n + 1))), { wires: Object.fromEntries(own.map((one, n) => [n + 1, wire(one)])), fluxRatio: 1 }).deposit;
        const whole = of(arcs);
        const parts = arcs.map((own) => of([own]));
        const sum = (name: 'wireLength' | 'wireMass' | 'mass' | 'rate' | 'massPerLength'): number => parts.reduce((total, own) => total + (own[name] ?? Number.NaN), 0);
        for (const name of ['wireLength', 'wireMass', 'mass', 'rate', 'massPerLength'] as const) expect(whole[name]).toBeCloseTo(sum(name), 8);
        const [first] = arcs;
        if (first !== undefined) expect(of([{ ...first, count: 2 * first.count }]).mass).toBeCloseTo(2 * (of([first]).mass ?? Number.NaN), 8);
        // One arc of which the feed is not known takes every sum with it.
        const silent = weld(5, 600, arcs.map(({ feed }, n) => arc(n === unknown ? undefined : feed, n + 1)));
        const without = figuresOfRows(silent, { wires: Object.fromEntries(arcs.map((one, n) => [n + 1, wire(one)])) }).deposit;
        if (unknown < arcs.length) expect(Object.values(without)).toEqual([null, null, null, null, null, null]);
        else expect(without).toEqual(whole);
      }),
      { numRuns: 40 },
    );
  });
});

describe('electricity and current density', () => {
  it('relates arc time to the duration, and kJ to kWh', () => {
    // 5 s of arc, 10 s dark, 5 s of arc: 18 kW for 10 s are 0.05 kWh, and half of 20 s.
    const rows = burningRows(20, () => ({ travelSpeed: 600, arcs: [arc(1)] }));
    const dark = rows.map((own, index) => (index < 50 || index >= 150 ? own : { ...own, run: { ...own.run, on: 0, length: 0, speedTime: 0, speed: 0, speedSquared: 0 }, arcs: [] }));
    const figures = figuresOfRows(dark);
    expect(figures.electricity.energy).toBeCloseTo(0.05, 9);
    expect(figures.electricity.duty).toBeCloseTo(0.5, 9);
    expect(figures.arcs[0]?.absent['currentDensity']).toBe('neither the assignment nor the procedure names a wireDiameter');
  });

  it('counts an electrode-negative current by its absolute value, an alternating one by its RMS, and all wires of the arc', () => {
    const density = (current: number, own: object, alternating: readonly number[] = []): number | null | undefined =>
      figuresOfRows(burningRows(10, (time) => ({ travelSpeed: 600, arcs: [{ current: time < 5 ? current : current / 2, voltage: 30 }] })), { wires: { 1: wire(own) }, alternating }).arcs[0]?.currentDensity;
    // 4 mm: 4π mm². Half of the time 600 A, half 300 A: mean 450, RMS sqrt((360,000 + 90,000)/2) = 474.342 A.
    expect(density(-600, { diameter: 4 })).toBeCloseTo(450 / (4 * Math.PI), 9);
    expect(density(600, { diameter: 4, count: 3 })).toBeCloseTo(150 / (4 * Math.PI), 9);
    expect(density(600, { diameter: 4 }, [1])).toBeCloseTo(474.341649 / (4 * Math.PI), 6);
  });
});
