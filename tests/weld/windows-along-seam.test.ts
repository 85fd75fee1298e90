import { describe, expect, it } from 'vitest';
import { dark, weld, windowRun } from './window-case.js';

/** Worked out by hand as in windows.test.ts; 600 A at 30 V and 600 mm/min is 18 kW over 10 mm/s, 1.8 kJ/mm. */
const raw = { smoothing: 0 };
const near = (value: number): number => expect.closeTo(value, 6) as number;
const volts = { voltage: 30 };

describe('travel speed', () => {
  it('is judged for the run: a slip', () => {
    // 400 mm/min from 20 to 25 s, 33.333 mm. Smoothed over 1 s: row at 20.0 has 0.45·600 + 0.55·400 = 490, outside; row at 24.9 has 490, row
    // at 25.0 has 510 ≥ 500 + 0.05·150 = 507.5.
    const slip = { stretches: [weld(0, 20), weld(20, 25, { travelSpeed: 400 }), weld(25, 50), dark(50, 60)], group: { travelSpeed: { min: 500, max: 650 } } };
    const { excursions, lengths } = windowRun(slip);
    expect(excursions).toMatchObject([
      { arc: null, quantity: 'travelSpeed', limit: 500, worst: near(400), from: 20, to: 25, fromTravelled: near(200), toTravelled: near(200 + 100 / 3) },
    ]);
    expect(lengths).toMatchObject({ outside: near(100 / 3), excluded: near(40) });
    expect(windowRun({ ...slip, alarm: raw }).excursions).toMatchObject([{ from: 20, to: 25 }]);
  });
});

describe('variation', () => {
  it('is computed over the last 10 s', () => {
    // 500 and 700 A in turn: over an even number of rows 100/600. The first judged row, at 2.0 s, is the 21st: 11 of 500 and 10 of 700.
    const share = 10 / 21;
    const first = (200 * Math.sqrt(share * (1 - share))) / (500 + 200 * share);
    const run = (max: number) =>
      windowRun({ stretches: [weld(0, 40, { current: { cycle: [500, 700] } }), dark(40, 50)], group: { arcs: [{ arc: 1, currentVariation: { max } }] } });
    expect(run(0.1).excursions).toMatchObject([{ arc: 1, quantity: 'currentVariation', limit: 0.1, worst: expect.closeTo(first, 9) as number, from: 2, to: 38 }]);
    expect(run(0.17).excursions).toEqual([]);
  });
});

describe('heat input along the seam', () => {
  it('is judged over 50 mm: too high for 60 mm', () => {
    // 800 A (2.4 kJ/mm) over 200 to 260 mm: 1.8 + 0.6·(what of the 50 mm lies there)/50. Above 2.0 from 16.667 mm: from the row whose middle is
    // 192.5 (17.5 mm) to that at 267.5. Below 2.0 − 0.02 from 15 mm: the row at 270.5 (14.5 mm).
    const { excursions, lengths } = windowRun({
      stretches: [weld(0, 20, volts), weld(20, 26, { ...volts, current: 800 }), weld(26, 50, volts), dark(50, 60)],
      group: { heatInput: { max: 2 } },
    });
    expect(excursions).toMatchObject([
      { arc: null, quantity: 'heatInput', limit: 2, worst: near(2.4), from: 19.2, to: 27, fromTravelled: near(192), toTravelled: near(270) },
    ]);
    expect(lengths).toMatchObject({ outside: near(76), inside: near(384), excluded: near(40) });
  });

  it('is multiplied by the thermal efficiency of arc energy only where one is given, and its mean is judged at the end', () => {
    // the mean of the weld zone is 1.8 throughout, below 2.0
    const { excursions } = windowRun({ stretches: [weld(0, 50, volts), dark(50, 60)], group: { heatInput: { min: 2 } } });
    expect(excursions).toMatchObject([
      { quantity: 'heatInput', limit: 2, worst: near(1.8), from: 2, to: 48 },
      { arc: null, quantity: 'meanHeatInput', limit: 2, worst: near(1.8), from: 2, to: 48, fromTravelled: near(20), toTravelled: near(480) },
    ]);
  });

  it('holds the energy of a carriage that stands with the arc on', () => {
    // 5 s at 100 mm, 90 kJ more: (50·1.8 + 90)/50 = 3.6 wherever 100 mm lies within 25 mm: rows with middles 75.5 to 124.5
    const { excursions } = windowRun({
      stretches: [weld(0, 10, volts), weld(10, 15, { ...volts, travelSpeed: 0 }), weld(15, 45, volts), dark(45, 55)],
      group: { heatInput: { max: 2.2 } },
    });
    expect(excursions).toMatchObject([{ quantity: 'heatInput', limit: 2.2, worst: near(3.6), from: 7.5, to: 17.5, fromTravelled: near(75), toTravelled: near(125) }]);
  });

  it('never adds two passages of one place', () => {
    // 200 mm ahead at 1.8 kJ/mm, then back at half the speed, 3.6 kJ/mm; crater from 48 s, 5·28 = 140 mm back
    const { excursions } = windowRun({
      stretches: [weld(0, 20, volts), weld(20, 50, { ...volts, travelSpeed: -300 }), dark(50, 60)],
      group: { heatInput: { max: 3 } },
    });
    expect(excursions.filter(({ quantity }) => quantity === 'heatInput')).toMatchObject([
      { limit: 3, worst: near(3.6), from: 20, to: 48, fromTravelled: near(200), toTravelled: near(60) },
    ]);
  });

  it('sums the arcs at a place, each at its own distance behind arc 1', () => {
    // Arc 2 runs 60 mm behind: 500 A (1.5) and from 30 to 40 s, over the places 240 to 340, 700 A (2.1). 3.3 + 0.6·(what of the 50 mm lies there)/50:
    // above 3.6 from 25 mm, row at 240.5 (25.5); below 3.6 − 0.036 from 22 mm, row at 343.5 (21.5). Arc 1 is there at 24.0 and 34.3 s.
    const { excursions } = windowRun({
      stretches: [
        weld(0, 30, { ...volts, second: [500, 30] }),
        weld(30, 40, { ...volts, second: [700, 30] }),
        weld(40, 70, { ...volts, second: [500, 30] }),
        dark(70, 80, 2),
      ],
      group: { arcs: [{ arc: 1 }, { arc: 2, offset: 60 }], heatInput: { max: 3.6 } },
    });
    expect(excursions).toMatchObject([{ quantity: 'heatInput', limit: 3.6, worst: near(3.9), from: 24, to: 34.3, fromTravelled: near(240), toTravelled: near(343) }]);
  });
});

describe('the place of an excursion', () => {
  /** 100.5 mm in 10 s at 603 mm/min, then 10 mm/s: 1,284.5 mm at 128.4 s; 3.0 s at 514 mm/min are 25.7 mm. */
  const stretches = [weld(0, 10, { travelSpeed: 603 }), weld(10, 128.4), weld(128.4, 131.4, { voltage: 36, travelSpeed: 514 }), weld(131.4, 150), dark(150, 160)];
  const group = { arcs: [{ arc: 1, voltage: { max: 34 } }] };

  it('lies towards the datum where a seam is welded against its direction (worked case 11)', () => {
    const assignment = { seamLength: 6000, side: 2, startOffset: 6060, direction: -1 };
    const { excursions } = windowRun({ stretches, group, alarm: raw, assignment });
    expect(excursions).toMatchObject([
      { from: 128.4, to: 131.4, fromTravelled: near(1284.5), toTravelled: near(1310.2), fromSeamPosition: near(4775.5), toSeamPosition: near(4749.8) },
    ]);
  });

  it('lies beyond the start offset in the direction of the seam', () => {
    const { excursions } = windowRun({ stretches, group, alarm: raw, assignment: { startOffset: 100 } });
    expect(excursions).toMatchObject([{ fromTravelled: near(1284.5), fromSeamPosition: near(1384.5), toSeamPosition: near(1410.2) }]);
  });

  it('is travelled of the carriage for a trailing arc too, by its own window', () => {
    const { excursions, lengths } = windowRun({
      stretches: [weld(0, 30, { second: [500, 32] }), weld(30, 40, { second: [700, 32] }), weld(40, 60, { second: [500, 32] }), dark(60, 70, 2)],
      group: { arcs: [{ arc: 1, current: { min: 550, max: 650 } }, { arc: 2, offset: 60, current: { min: 450, max: 550 } }] },
      alarm: raw,
    });
    expect(excursions).toMatchObject([{ arc: 2, quantity: 'current', limit: 550, worst: 700, from: 30, to: 40, fromTravelled: near(300), toTravelled: near(400) }]);
    expect(lengths).toMatchObject({ outside: near(100), inside: near(460), excluded: near(40) });
  });
});
