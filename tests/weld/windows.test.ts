import { describe, expect, it } from 'vitest';
import { dark, weld, windowRun } from './window-case.js';

/**
 * Every expected value is worked out by hand from the rules. Unless said: 600 mm/min, so that a row of 100 ms is 1 mm; lit at
 * 0 s, so that ignition lasts 2.0 s (15 mm are past after 1.5 s); the crater is the last 2.0 s: 20 + 20 mm are excluded.
 */
const voltage = { arcs: [{ arc: 1, voltage: { min: 30, max: 34 } }] };
const raw = { smoothing: 0 };
const near = (value: number): number => expect.closeTo(value, 6) as number;

describe('an excursion of one window', () => {
  it('begins and ends where a step passes the middle of the smoothing time', () => {
    // 31 V, 36 V from 20 to 30 s, 31 V. Row at 20.0 (middle 20.05, 19.55 to 20.55): 0.45·31 + 0.55·36 = 33.75, inside; row at 20.1:
    // 0.35·31 + 0.65·36 = 34.25, outside. Row at 29.8: 34.25; row at 29.9: 33.75 ≤ 34 − 0.05·4 = 33.8, inside the deadband.
    const { excursions, lengths } = windowRun({
      stretches: [weld(0, 20), weld(20, 30, { voltage: 36 }), weld(30, 50), dark(50, 60)],
      group: voltage,
    });
    expect(excursions).toEqual([
      { arc: 1, quantity: 'voltage', limit: 34, worst: 36, from: 20.1, to: 29.9, fromTravelled: 201, toTravelled: 299, fromSeamPosition: 201, toSeamPosition: 299 },
    ]);
    // rows 20.1 to 29.8 are outside: 98 mm; 500 − 40 − 98 = 362
    expect(lengths).toEqual({ inside: near(362), outside: near(98), notProven: 0, excluded: near(40) });
  });

  it('with smoothing 0 is judged row by row', () => {
    const { excursions, lengths } = windowRun({
      stretches: [weld(0, 20), weld(20, 30, { voltage: 36 }), weld(30, 50), dark(50, 60)],
      group: voltage,
      alarm: raw,
    });
    expect(excursions).toMatchObject([{ limit: 34, worst: 36, from: 20, to: 30, fromTravelled: 200, toTravelled: 300 }]);
    expect(lengths).toMatchObject({ inside: near(360), outside: near(100) });
  });

  it('begins where a ramp passes the limit and ends with the last judged value before the crater', () => {
    // 30.005 V + 0.1 V/s: the mean over a time centred on the row is the row's own value; 34 is passed at 39.95 s, so the first row
    // outside is that at 40.0 s (34.005). Out at 60 s: the last judged row is that at 57.9 s, with 30.005 + 5.79 = 35.795.
    const { excursions, lengths } = windowRun({
      stretches: [weld(0, 60, { voltage: { ramp: { from: 30.005, perSecond: 0.1 } } }), dark(60, 70)],
      group: voltage,
    });
    expect(excursions).toMatchObject([{ limit: 34, worst: near(35.795), from: 40, to: 58, fromTravelled: near(400), toTravelled: near(580) }]);
    expect(lengths).toMatchObject({ inside: near(380), outside: near(180), excluded: near(40) });
  });

  it('is not raised while the value is outside for less than the on-delay, but its length counts as outside', () => {
    const { excursions, lengths } = windowRun({
      stretches: [weld(0, 20), weld(20, 20.9, { voltage: 36 }), weld(20.9, 50), dark(50, 60)],
      group: voltage,
      alarm: raw,
    });
    expect(excursions).toEqual([]);
    expect(lengths).toEqual({ inside: near(451), outside: near(9), notProven: 0, excluded: near(40) });
  });

  it('is raised when the value stays outside for exactly the on-delay', () => {
    // ten rows of 100 ms are 1.0 s
    const { excursions } = windowRun({ stretches: [weld(0, 20), weld(20, 21, { voltage: 36 }), weld(21, 50), dark(50, 60)], group: voltage, alarm: raw });
    expect(excursions).toMatchObject([{ from: 20, to: 21 }]);
  });

  it('does not count a value on the limit as outside', () => {
    const { excursions, lengths } = windowRun({ stretches: [weld(0, 40, { voltage: 34 }), dark(40, 50)], group: voltage, alarm: raw });
    expect(excursions).toEqual([]);
    expect(lengths.outside).toBe(0);
  });

  it('is a single one while the value flaps about the limit', () => {
    // The deadband ends at 33.8. 33.9 is not inside it; 33.7 is, but for 2.0 s only, less than the off-delay of 3.0 s.
    const flapping = { cycle: [33.9, 34.1] };
    const { excursions, lengths } = windowRun({
      stretches: [
        weld(0, 10),
        weld(10, 12, { voltage: 34.1 }),
        weld(12, 20, { voltage: flapping }),
        weld(20, 22, { voltage: 33.7 }),
        weld(22, 30, { voltage: flapping }),
        weld(30, 50),
        dark(50, 60),
      ],
      group: voltage,
      alarm: raw,
    });
    expect(excursions).toMatchObject([{ limit: 34, worst: 34.1, from: 10, to: 30 }]);
    // 20 rows and half of 160
    expect(lengths.outside).toBeCloseTo(100, 6);
  });

  it('of a window without an upper end returns 1 % of the limit inside it', () => {
    // 30 + 0.01·30 = 30.3: 30.2 V is inside the limit but not inside the deadband
    const { excursions, lengths } = windowRun({
      stretches: [weld(0, 20), weld(20, 25, { voltage: 29 }), weld(25, 30, { voltage: 30.2 }), weld(30, 50, { voltage: 30.4 }), dark(50, 60)],
      group: { arcs: [{ arc: 1, voltage: { min: 30 } }] },
      alarm: raw,
    });
    expect(excursions).toMatchObject([{ limit: 30, worst: 29, from: 20, to: 30 }]);
    expect(lengths.outside).toBeCloseTo(50, 6);
  });

  it('of a window without a lower end returns 1 % of the limit inside it', () => {
    // 34 − 0.34 = 33.66
    const { excursions } = windowRun({
      stretches: [weld(0, 20), weld(20, 25, { voltage: 36 }), weld(25, 30, { voltage: 33.7 }), weld(30, 50, { voltage: 33.6 }), dark(50, 60)],
      group: { arcs: [{ arc: 1, voltage: { max: 34 } }] },
      alarm: raw,
    });
    expect(excursions).toMatchObject([{ limit: 34, worst: 36, from: 20, to: 30 }]);
  });

  it('ends at its own limit where the value goes on past the other one', () => {
    // 36 V from 20 to 30 s is outside 34; 28 V from 30 to 40 s is well inside 34 and outside 30
    const { excursions } = windowRun({
      stretches: [weld(0, 20), weld(20, 30, { voltage: 36 }), weld(30, 40, { voltage: 28 }), weld(40, 60), dark(60, 70)],
      group: voltage,
      alarm: raw,
    });
    expect(excursions).toMatchObject([
      { limit: 34, worst: 36, from: 20, to: 30 },
      { limit: 30, worst: 28, from: 30, to: 40 },
    ]);
  });
});

describe('an excursion and what befalls the arc', () => {
  it('ends with the last judged value before the crater', () => {
    // out at 40 s, crater from 38 s
    const { excursions, lengths } = windowRun({ stretches: [weld(0, 30), weld(30, 40, { voltage: 36 }), dark(40, 50)], group: voltage, alarm: raw });
    expect(excursions).toMatchObject([{ from: 30, to: 38, fromTravelled: near(300), toTravelled: near(380) }]);
    expect(lengths).toMatchObject({ inside: near(280), outside: near(80), excluded: near(40) });
  });

  it('runs on through a data gap', () => {
    // the reading at 14.9 s applies to 15.9 s, the next is that at 18.0 s: 2.1 s and 21 mm of gap; outside 10.0 to 15.9 and 18.0 to 25.0 s
    const { excursions, lengths } = windowRun({
      stretches: [weld(0, 10), weld(10, 25, { voltage: 36 }), weld(25, 45), dark(45, 55)],
      lost: [{ from: 15, to: 17.95 }],
      group: voltage,
      alarm: raw,
    });
    expect(excursions).toMatchObject([{ from: 10, to: 25, fromTravelled: near(100), toTravelled: near(250) }]);
    expect(lengths).toEqual({ inside: near(450 - 40 - 129 - 21), outside: near(129), notProven: near(21), excluded: near(40) });
  });

  it('ends before a restart and begins anew after its ignition', () => {
    // out at 20 s, lit again at 25 s without travel: crater 18 to 20, restart zone 25 to 27, crater 43 to 45 s
    const { excursions, lengths } = windowRun({
      stretches: [weld(0, 10), weld(10, 20, { voltage: 36 }), dark(20, 25), weld(25, 45, { voltage: 36 }), dark(45, 55)],
      group: voltage,
      alarm: raw,
    });
    expect(excursions).toMatchObject([
      { from: 10, to: 18, fromTravelled: near(100), toTravelled: near(180) },
      { from: 27, to: 43, fromTravelled: near(220), toTravelled: near(380) },
    ]);
    expect(lengths).toMatchObject({ inside: near(80), outside: near(80 + 160), excluded: near(80) });
  });
});

describe('what was not sent', () => {
  it('is not proven where it has a window', () => {
    const { excursions, lengths } = windowRun({
      stretches: [weld(0, 50), dark(50, 60)],
      group: { arcs: [{ arc: 1, voltage: { min: 30, max: 34 }, wireFeedSpeed: { min: 1.1, max: 1.5 } }] },
    });
    expect(excursions).toEqual([]);
    expect(lengths).toEqual({ inside: 0, outside: 0, notProven: near(460), excluded: near(40) });
  });

  it('gives way to a value that is outside', () => {
    const { lengths } = windowRun({
      stretches: [weld(0, 20), weld(20, 30, { voltage: 36 }), weld(30, 50), dark(50, 60)],
      group: { arcs: [{ arc: 1, voltage: { min: 30, max: 34 }, wireFeedSpeed: { min: 1.1, max: 1.5 } }] },
      alarm: raw,
    });
    expect(lengths).toEqual({ inside: 0, outside: near(100), notProven: near(360), excluded: near(40) });
  });
});
