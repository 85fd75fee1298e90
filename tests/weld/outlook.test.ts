import { describe, expect, it } from 'vitest';
import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { presentOutlook, runLength } from '../../shared/weld/ahead/outlook.js';
import type { Outlook } from '../../shared/weld/ahead/outlook.js';
import { presentRates } from '../../shared/weld/ahead/present-rates.js';
import { addValue, noSpreads, spreadOf } from '../../shared/weld/rows/spread-sum.js';
import { meltedLength, wireMass } from '../../shared/weld/run/wire-mass.js';
import { addRow, startRunSums } from '../../shared/weld/run/run-sums.js';
import { noProcedure, runParameters, unknownWire } from '../../shared/weld/procedure/zone.js';
import type { ProcedureParameters } from '../../shared/weld/procedure/zone.js';
import { burningRow, burningRows } from './burning-rows.js';
import { groupOf } from '../named-rows.js';
import type { RunRowGroup } from '../named-rows.js';

const seam = { seam: 'S-1', run: 1 };

function ahead(rows: readonly RunRowGroup[], assignment: Partial<Assignment> | null, procedure: Partial<ProcedureParameters> = {}): Outlook {
  const full = assignment === null ? null : { ...seam, ...assignment };
  const sums = startRunSums(runParameters(full, { ...noProcedure, ...procedure }));
  const groups = rows.map(groupOf);
  for (const { rows: numbers, at } of groups) addRow(sums, numbers, at);
  const rates = presentRates(groups.slice(-600), Object.keys(sums.arcs).map(Number));
  const last = rows.at(-1)?.run;
  return presentOutlook({ assignment: full, sums, travelled: (last?.travelled ?? 0) + (last?.advance ?? 0), gaps: [], newest: groups.at(-1) ?? null, rates });
}

/** 60 s at 520 mm/min with 1.25 m/min of wire: 520 mm, and 1.25 m of wire. */
const minute = burningRows(60, () => ({ travelSpeed: 520, arcs: [{ current: 650, voltage: 31, wireFeedSpeed: 1.25 }] }));

describe('what is to go, and when it ends', () => {
  it('is the rest of the seam at the present speed', () => {
    // 2,950 − 520 = 2,430 mm; 2,430/520 min = 280.3846 s after the 60 s that began at 1970
    const { lengthToGo, endsAt, absent } = ahead(minute, { seamLength: 2950 });
    expect(lengthToGo).toBeCloseTo(2430, 6);
    expect(endsAt).toBe('1970-01-01T00:05:40.385Z');
    expect(absent).not.toHaveProperty('endsAt');
  });

  it('has both tabs in it, or one full turn where no length is named', () => {
    expect(runLength({ ...seam, seamLength: 6000, runOn: 60, runOff: 80 })).toBe(6140);
    expect(runLength({ ...seam, motion: 'work', diameter: 4200 })).toBeCloseTo(13_194.689, 3);
    expect(runLength({ ...seam, runOn: 60 })).toBeNull();
    expect(runLength(null)).toBeNull();
  });

  it('does not ask which way the carriage counts', () => {
    const back = burningRows(60, () => ({ travelSpeed: -520, arcs: [{ current: 650, voltage: 31, wireFeedSpeed: 1.25 }] }));
    expect(ahead(back, { seamLength: 2950, direction: -1 })).toMatchObject({ lengthToGo: 2430, endsAt: '1970-01-01T00:05:40.385Z' });
  });

  it('goes by the last 10 s', () => {
    // 20 s at 600, then 10 s at 300 mm/min: 200 + 50 mm; 450 left at 300 are 90 s
    const rows = burningRows(30, (time) => ({ travelSpeed: time < 20 ? 600 : 300, arcs: [{ current: 650, voltage: 31 }] }));
    expect(ahead(rows, { seamLength: 700 })).toMatchObject({ lengthToGo: 450, endsAt: '1970-01-01T00:02:00.000Z' });
  });

  it('says why it is not known', () => {
    const standing = burningRows(30, (time) => ({ travelSpeed: time < 28 ? 600 : 0, arcs: [{ current: 650, voltage: 31 }] }));
    expect(ahead(standing, { seamLength: 700 })).toMatchObject({ lengthToGo: 420, endsAt: null, absent: { endsAt: 'the carriage stands' } });
    expect(ahead(minute, {})).toMatchObject({ lengthToGo: null, endsAt: null, absent: { lengthToGo: 'the assignment names no seamLength', endsAt: 'the assignment names no seamLength' } });
    expect(ahead(minute, { seamLength: 500 })).toMatchObject({ lengthToGo: 0, endsAt: null, absent: { endsAt: 'the length to weld has been travelled' } });
    const returning = burningRows(30, (time) => ({ travelSpeed: time < 20 ? 600 : -300, arcs: [{ current: 650, voltage: 31 }] }));
    expect(ahead(returning, { seamLength: 700 })).toMatchObject({ lengthToGo: 550, endsAt: null, absent: { endsAt: 'the carriage goes back' } });
    const still = minute.map(({ run, arcs }) => ({ run: { ...run, speedTime: 0, speed: 0, length: 0, advance: 0, travelled: 0 }, arcs }));
    expect(ahead(still, { seamLength: 500 })).toMatchObject({ lengthToGo: null, endsAt: null, absent: { lengthToGo: 'neither travelSpeed nor travel was sent' } });
    const lit = burningRow(600, 520, 520, [{ current: 650, voltage: 31 }]);
    const dark = [...minute, { run: { ...lit.run, on: 0, speedTime: 0, speed: 0 }, arcs: [] }];
    expect(ahead(dark, { seamLength: 2950 })).toMatchObject({ endsAt: null, absent: { endsAt: 'no arc burns' } });
  });
});

describe('the wire for it', () => {
  // (π/4)·0.004²·7850 = 0.0986460 kg/m. 2,430 mm at 520 mm/min and 1.25 m/min: 1.25·2430/520 = 5.841346 m, 0.576225 kg. The minute has melted
  // 1.25 m, 0.123308 kg. With 0.5 kg left it lasts for 2430·0.5/0.576225 = 2,108.55 mm, 321.45 mm too few.
  const perMetre = (Math.PI / 4) * 0.004 ** 2 * 7850;

  it('is what the seam takes, against what is on the spool', () => {
    const { wire, absent } = ahead(minute, { seamLength: 2950, arcs: [{ arc: 1, wireDiameter: 4, spoolMass: 0.5 + 1.25 * perMetre }] });
    expect(wire).toHaveLength(1);
    expect(wire[0]?.lengthNeeded).toBeCloseTo(5.841346, 6);
    expect(wire[0]?.massNeeded).toBeCloseTo(0.576225, 6);
    expect(wire[0]?.massLeft).toBeCloseTo(0.5, 9);
    expect(wire[0]?.endsShortBy).toBeCloseTo(321.45, 2);
    expect(absent).toEqual({});
  });

  it('is enough where the spool holds more', () => {
    const { wire } = ahead(minute, { seamLength: 2950, arcs: [{ arc: 1, wireDiameter: 4, spoolMass: 25 }] });
    expect(wire[0]?.endsShortBy).toBe(0);
    expect(wire[0]?.massLeft).toBeCloseTo(25 - 1.25 * perMetre, 9);
  });

  it('is computed for every arc to the same end, with the wires of the procedure', () => {
    // arc 2 is 60 mm behind: 2,490 mm to go; two wires of 2 mm weigh half of one of 4 mm
    const rows = burningRows(60, () => ({ travelSpeed: 520, arcs: [{ current: 650, voltage: 31, wireFeedSpeed: 1.25 }, { current: 500, voltage: 34, wireFeedSpeed: 2.5 }] }));
    const wires = { 1: { ...unknownWire, diameter: 4 }, 2: { ...unknownWire, diameter: 2, count: 2 } };
    const { wire } = ahead(rows, { seamLength: 2950 }, { offsets: { 2: 60 }, wires });
    expect(wire.map(({ arc, lengthNeeded }) => [arc, lengthNeeded])).toEqual([[1, expect.closeTo(5.841346, 6)], [2, expect.closeTo((2.5 * 2490) / 520, 6)]]);
    expect(wire[1]?.massNeeded).toBeCloseTo(((2.5 * 2490) / 520) * perMetre * 0.5, 9);
  });

  it('says what is missing', () => {
    const unfed = burningRows(60, () => ({ travelSpeed: 520, arcs: [{ current: 650, voltage: 31 }] }));
    expect(ahead(unfed, { seamLength: 2950, arcs: [{ arc: 1, wireDiameter: 4, spoolMass: 1 }] })).toMatchObject({
      wire: [{ arc: 1, lengthNeeded: null, massNeeded: null, massLeft: null, endsShortBy: null }],
      absent: { 'wire[1].lengthNeeded': 'wireFeedSpeed was not sent in the last 10 s', 'wire[1].massLeft': 'no wireFeedSpeed was sent' },
    });
    const bare = ahead(minute, { seamLength: 2950 });
    expect(bare.wire[0]).toMatchObject({ massNeeded: null, massLeft: null, endsShortBy: null });
    expect(bare.absent).toEqual({
      'wire[1].massNeeded': 'neither the assignment nor the procedure names a wireDiameter',
      'wire[1].massLeft': 'the assignment names no spoolMass',
      'wire[1].endsShortBy': 'the assignment names no spoolMass',
    });
  });

  it('weighs what the handbooks say, and counts what a data gap hides', () => {
    // 4.0 mm at 1.0 m/min: 5.91876 kg/h; twin 3/32 in at 85 in/min: printed 19.8 lb/h (conference slides on submerged arc variations), 19.97 exactly
    expect(wireMass(4, 1) * 60).toBeCloseTo(5.91876, 5);
    expect((wireMass(2.38125, 2) * 85 * 0.0254 * 60) / 0.45359237).toBeCloseTo(19.97, 1);
    // 1.25 m/min known for 30 of 60 s on, and a gap of 12 s: 1.25·72/60
    const spreads = noSpreads();
    addValue(spreadOf(spreads, 'wireFeedSpeed'), 1.25, 30);
    expect(meltedLength({ on: 60, spreads }, [{ from: 0, to: 12e6 }])).toBeCloseTo(1.5, 9);
    expect(meltedLength(undefined, [])).toBeNull();
  });
});
