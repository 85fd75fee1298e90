import { describe, expect, it } from 'vitest';
import type { FiguredProcedure, FiguredRun } from '../../../shared/weld/figures/figured-run.js';
import { runFigureAnswers, type FigureAnswer } from '../../../shared/weld/figures/run-figure-answers.js';
import { madeRun } from '../../api/made-run.js';
import { evaluated, wrongInFigure } from './check-figure.js';

type Part = Readonly<Record<string, unknown>>;

/** A run of 60 s with 600 A, 30 V, 600 mm in one arc, and the parts that are laid over it and over its arc. */
function figuresWith(parts: Part, ofArc: Part = {}, assignment: Part = {}, procedure: FiguredProcedure | null = null): ReadonlyMap<string, FigureAnswer> {
  const run = madeRun({ id: 'r' });
  const made = { ...run, arcs: run.arcs.map((arc) => ({ ...arc, ...ofArc })), assignment: { ...run.assignment, run: 1, ...assignment }, ...parts } satisfies FiguredRun;
  return new Map(runFigureAnswers(made, procedure).map((own) => [own.name, own]));
}

/** The figure has this value, which the record was given from a source outside the program, and its formula gives all of the digits printed there. */
function expectWorked(figures: ReadonlyMap<string, FigureAnswer>, name: string, printed: number, digits = 6): void {
  const figure = figures.get(name);
  if (figure === undefined) throw new Error(`there is no figure ${name}`);
  expect(figure.value, name).toBe(printed);
  expect(evaluated(figure), `${name}: ${String(figure.formula)}`).toBeCloseTo(printed, digits);
}

describe('figures whose formula gives what was worked out elsewhere', () => {
  // EN 1011-2:2001, annex D; the case worked by hand: a T-joint fillet, Q 2.2 kJ/mm, T0 150 °C.
  const fillet = { transitionThickness: 19.974444, heatInput: 2.2, f2: 0.45, f3: 0.67, temperature: 150, temperatureFrom: 'interpass' };
  it.each([
    ['three-dimensional', 24, 11.565231],
    ['two-dimensional', 16, 18.024521],
  ])('t8/5, %s in %d mm', (form, thickness, value) => {
    const procedure: FiguredProcedure = { runGroups: [{ runs: [1, 9], shapeFactors: { f2: 0.45, f3: 0.67 } }] };
    const figures = figuresWith({ t85: { value, form, ...fillet, thickness } }, {}, { thickness }, procedure);
    expectWorked(figures, 't85.value', value);
    expectWorked(figures, 't85.transitionThickness', 19.974444);
    expect(figures.get('t85.value')?.inputs).toContainEqual({ name: 'T0', value: 150, unit: '°C', from: 'measured' });
    expect(figures.get('t85.f2')?.inputs).toEqual([{ name: 'F2', value: 0.45, unit: '', from: 'procedure' }]);
  });

  // The table printed for Q 1.963636 (and 5.29 s, 11.36 s at d = 10 and 14.7 mm for Q 1, T0 20 in a public specification), to 4 decimals.
  it.each([
    [1, 20, 'three-dimensional', 40, 5.2885, 14.6586],
    [1, 20, 'two-dimensional', 12, 7.8914, 14.6586],
    [1, 150, 'two-dimensional', 12, 14.7124, 16.4322],
    [1.963636, 238, 'three-dimensional', 30, 22.0443, 25.563],
    [3, 100, 'two-dimensional', 20, 36.6515, 27.123],
  ])('t8/5 of %d kJ/mm at %d °C, %s in %d mm', (heatInput, temperature, form, thickness, value, transitionThickness) => {
    const figures = figuresWith({ t85: { value, form, transitionThickness, heatInput, thickness, f2: 1, f3: 1, temperature, temperatureFrom: 'declared' } });
    expectWorked(figures, 't85.value', value, 4);
    expectWorked(figures, 't85.transitionThickness', transitionThickness, 4);
    expect(figures.get('t85.value')?.inputs).toContainEqual({ name: 'T0', value: temperature, unit: '°C', from: 'declared' });
  });

  // π/4 · 4² mm² · 1.2 m · 7850 kg/m³ = 0.118375 kg in 60 s and 0.6 m.
  it('wire, weld metal and flux', () => {
    const deposit = { wireLength: 1.2, wireMass: 0.118375, mass: 0.118375, rate: 7.102513, massPerLength: 0.197292, fluxMass: 0.118375 };
    const figures = figuresWith({ deposit }, { wireFeedSpeed: { mean: 1.2, min: 1.2, max: 1.2, standardDeviation: 0 } }, { arcs: [{ arc: 1, wireDiameter: 4 }] });
    for (const [name, value] of Object.entries(deposit)) expectWorked(figures, `deposit.${name}`, value, name === 'rate' ? 4 : 6);
    expect(figures.get('deposit.mass')?.inputs).toEqual([
      { name: 'feed1', value: 1.2, unit: 'm/min', from: 'computed' }, { name: 'arcTime1', value: 60, unit: 's', from: 'computed' }, { name: 'diameter1', value: 4, unit: 'mm', from: 'declared' },
      { name: 'wires1', value: 1, unit: '', from: 'setting' }, { name: 'recovery1', value: 1, unit: '', from: 'setting' },
    ]);
  });

  // An integral over no time is 0, and an arc without arc time has no mean feed to put in.
  it('no wire of an arc that was lit just before a data gap, alone and beside one that burned', () => {
    const feed = { mean: 1.2, min: 1.2, max: 1.2, standardDeviation: 0 };
    const lit = { arcTime: 0, length: 4, energy: 0, wireFeedSpeed: null };
    const nothing = { wireLength: 0, wireMass: 0, mass: 0, rate: null, massPerLength: 0, fluxMass: 0 };
    const alone = figuresWith({ deposit: nothing }, lit, { arcs: [{ arc: 1, wireDiameter: 4 }] });
    for (const name of ['wireLength', 'wireMass', 'mass', 'massPerLength', 'fluxMass']) expect(wrongInFigure(alone.get(`deposit.${name}`) ?? failed(name))).toEqual([]);
    const [arc] = madeRun({ id: 'r' }).arcs;
    const both = figuresWith({ arcs: [{ ...arc, wireFeedSpeed: feed }, { ...arc, ...lit, arc: 2 }], deposit: { ...nothing, wireLength: 1.2 } });
    expectWorked(both, 'deposit.wireLength', 1.2);
    expect(both.get('deposit.wireLength')?.inputs.map(({ name }) => name)).toEqual(['feed1', 'arcTime1']);
  });

  // Conference slides on submerged arc: one wire of 3/32 in at 85 in/min melts 9.98 lb/h.
  it('wire of two arcs by the procedure, one of them with two wires', () => {
    const [inch, pound] = [25.4, 0.45359237];
    const arc = (number: number): Part => ({ ...madeRun({ id: 'r' }).arcs[0], arc: number, arcTime: 3600, wireFeedSpeed: { mean: (85 * inch) / 1000, min: 0, max: 0, standardDeviation: 0 } });
    const perWire = (Math.PI / 4) * ((3 / 32) * inch) ** 2 * ((85 * inch) / 1000) * 60 * 7850e-6;
    expect(perWire / pound).toBeCloseTo(9.98, 2);
    const procedure: FiguredProcedure = { fluxRatio: 1.1, runGroups: [{ runs: [1, 9], arcs: [{ arc: 1, wireDiameter: (3 / 32) * inch, wires: 2, recovery: 0.98 }, { arc: 2, wireDiameter: (3 / 32) * inch }] }] };
    const figures = figuresWith({ arcs: [arc(1), arc(2)], deposit: { wireLength: null, wireMass: 3 * perWire, mass: (2 * 0.98 + 1) * perWire, rate: null, massPerLength: null, fluxMass: 1.1 * (2 * 0.98 + 1) * perWire } }, {}, {}, procedure);
    for (const name of ['wireMass', 'mass', 'fluxMass']) expect(wrongInFigure(figures.get(`deposit.${name}`) ?? failed(name))).toEqual([]);
    expect(figures.get('deposit.fluxMass')?.inputs).toContainEqual({ name: 'fluxRatio', value: 1.1, unit: '', from: 'procedure' });
  });

  // Lecture text on submerged arc welding: 600 A in 4 mm, "about 48 A/mm²"; 1080 kJ are 0.3 kWh.
  it('current density, electrode extension and electricity', () => {
    // The melting-rate equation, worked through for 4 mm, 32 mm and 1.2 m/min: 600 A in the first 100 mm gives c 0.997017, 585 A in the last +5.642059 mm.
    const estimatedFrom = { factor: 0.997017, first: { current: 600, wireFeedSpeed: 1.2 }, last: { current: 585, wireFeedSpeed: 1.2 } };
    const extension = { declared: 32, ratioToDiameter: 8, procedure: null, trade: 'inside', driftEstimate: 5.642059, basis: 'an estimate', estimatedFrom };
    const figures = figuresWith({ electricity: { energy: 0.3, duty: 1 } }, { currentDensity: 47.746, extension }, { arcs: [{ arc: 1, wireDiameter: 4, electrodeExtension: 32 }] });
    expectWorked(figures, 'arcs.1.currentDensity', 47.746, 3);
    expectWorked(figures, 'arcs.1.extension.ratioToDiameter', 8);
    expectWorked(figures, 'arcs.1.extension.declared', 32);
    expectWorked(figures, 'arcs.1.extension.estimatedFrom.factor', 0.997017);
    expect(figures.get('arcs.1.extension.driftEstimate')).toMatchObject({ value: 5.642059, unit: 'mm', formula: null, grade: 'M', absent: null });
    expectWorked(figures, 'electricity.energy', 0.3, 12);
    expectWorked(figures, 'electricity.duty', 1, 12);
  });

  // A sine of 550 A and 36 V lagging 20° for 60 s: cos 20° = 0.939693; 1116.356 kJ are 60 s of 18,605.914 W.
  it('an alternating arc: power factor, and current density by RMS', () => {
    const ac = { currentRms: 550, voltageRms: 36, balance: 0.5, currentOffset: 0, powerFactor: 0.939693 };
    const figures = figuresWith({}, { ac, energy: 1116.35484, currentDensity: 43.7676, current: { mean: 549, min: 540, max: 560, standardDeviation: 1, rms: 550 } }, { arcs: [{ arc: 1, wireDiameter: 4 }] });
    expectWorked(figures, 'arcs.1.ac.powerFactor', 0.939693);
    expectWorked(figures, 'arcs.1.currentDensity', 43.7676, 4);
    expect(figures.get('arcs.1.ac.balance')).toMatchObject({ value: 0.5, formula: null });
    expect(figures.get('arcs.1.ripple')?.value).toBeNull();
  });

  // 4200 mm across, 500 mm/min, 50 mm overlap: 13,194.689 mm around, 361.364°.
  it('a circumferential seam', () => {
    const length = 13_244.689;
    const parts = { length, travelled: length, degrees: 361.364, circumference: { diameter: 4200, degrees: 361.364, turns: 1.00379, overlap: 50 } };
    const figures = figuresWith(parts, {}, { motion: 'work', diameter: 4200 });
    expectWorked(figures, 'circumference.degrees', 361.364, 3);
    expectWorked(figures, 'circumference.turns', 1.00379, 5);
    expectWorked(figures, 'circumference.overlap', 50, 3);
    expectWorked(figures, 'circumference.diameter', 4200);
    expectWorked(figures, 'degrees', 361.364, 3);
  });
});

describe('what else a figure says', () => {
  it('names the default and the procedure as origins of the thermal efficiency', () => {
    const from = (procedure: FiguredProcedure | null): unknown => figuresWith({}, {}, {}, procedure).get('heatInput')?.inputs[1];
    expect(from(null)).toEqual({ name: 'thermalEfficiency', value: 1, unit: '', from: 'setting' });
    expect(from({})).toMatchObject({ from: 'setting' });
    expect(from({ thermalEfficiency: 1 })).toMatchObject({ from: 'procedure' });
  });

  it('says why a value is missing in the words of the nearest part, and gives neither value nor formula', () => {
    const figures = figuresWith({ heatInput: null, t85: null, absent: { heatInput: 'the run is shorter than 20 mm', t85: 'the assignment names no thickness' } }, { wireFeedSpeed: null });
    expect(figures.get('heatInput')).toMatchObject({ value: null, formula: null, absent: 'the run is shorter than 20 mm', inputs: [{ name: 'arcEnergy', value: 1.8 }, { name: 'thermalEfficiency' }] });
    expect(figures.get('t85.value')).toMatchObject({ value: null, formula: null, absent: 'the assignment names no thickness' });
    expect(figures.get('arcs.1.wireFeedSpeed.mean')).toMatchObject({ value: null, absent: 'no wireFeedSpeed was sent' });
    expect(figures.get('arcs.1.extinctions')).toMatchObject({ value: null, absent: 'readings at 100 ms cannot show them' });
  });

  it('says by which averaging a figure was made, and where travel was only declared', () => {
    const method = (parts: Part, name: string): string => figuresWith(parts).get(name)?.method ?? '';
    expect(method({}, 'arcs.1.energy')).toMatch(/readings or come from blocks slower than 1 ms/);
    expect(method({ method: 'instantaneous' }, 'arcs.1.energy')).toMatch(/blocks of at most 1 ms: instantaneous/);
    expect(method({}, 'arcs.1.samples')).not.toMatch(/blocks/);
    expect(method({}, 'heatInput')).not.toMatch(/declared, not measured/);
    expect(method({ travel: 'declared' }, 'heatInput')).toMatch(/declared, not measured/);
    expect(method({ travel: 'declared' }, 'energy')).not.toMatch(/declared, not measured/);
  });

  it('numbers restarts and data gaps from 1', () => {
    const restart = { arc: 2, stoppedTravelled: 1284.5, restartedTravelled: 1290, overlap: -5.5 };
    const figures = figuresWith({ restarts: [{ ...restart, overlap: 0, stoppedTravelled: 10, restartedTravelled: 10 }, restart], dataGaps: [{ fromTravelled: 110, toTravelled: 150 }] });
    expectWorked(figures, 'restarts.2.overlap', -5.5);
    // Along a plate no place has degrees, and the run says so once.
    const straight = figuresWith({ restarts: [{ ...restart, stoppedDegrees: null }], degrees: null, circumference: null, absent: { degrees: 'the seam is not circumferential' } });
    expect(straight.get('restarts.1.stoppedDegrees')).toMatchObject({ value: null, absent: 'the seam is not circumferential' });
    expect(straight.has('circumference.overlap')).toBe(false);
    expect(figures.get('dataGaps.1.toTravelled')).toMatchObject({ value: 150, unit: 'mm' });
  });
});

function failed(name: string): never {
  throw new Error(`there is no figure ${name}`);
}
