import { afterEach, describe, expect, it } from 'vitest';
import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import { askedPreparation } from '../../shared/weld/preparation/preparation.js';
import type { AskedEntry, PreparationEntry } from '../../shared/weld/preparation/preparation.js';
import { chooseUnits } from '../../dashboards/shared/choices.js';
import { stepped } from '../../dashboards/station/entry-steps.js';
import { withMaterialsOf, diametersFor, lotsFor, startOf } from '../../dashboards/station/preparation-start.js';

const asked = (entry: PreparationEntry, parts: Partial<AskedEntry> = {}): AskedEntry => ({ entry, arc: null, value: null, limits: [], ...parts });

describe('where a number begins', () => {
  it('is the middle of the window of the procedure, else 8 times the wire diameter, else last time', () => {
    const trade = { against: 'trade', min: 19.2, max: 32 } as const;
    expect(startOf(asked('electrodeExtension', { limits: [{ against: 'procedure', min: 28, max: 36 }, trade] }), 30, undefined)).toBe(32);
    // 8 · 3.2 mm.
    expect(startOf(asked('electrodeExtension', { limits: [trade] }), 30, undefined)).toBe(25.6);
    expect(startOf(asked('electrodeExtension'), 30, undefined)).toBe(30);
    expect(startOf(asked('fluxTemperature'), 320, undefined)).toBe(320);
  });

  it('is the declared preheat, else the least that the procedure allows', () => {
    const own = asked('preheatMeasured', { limits: [{ against: 'procedure', min: 80 }] });
    expect([startOf(own, null, 90), startOf(own, null, undefined)]).toEqual([90, 80]);
  });
});

describe('a step', () => {
  afterEach(() => {
    chooseUnits('metric');
  });

  it('goes to the next round number', () => {
    expect([stepped('electrodeExtension', 32, true), stepped('electrodeExtension', 25.6, true), stepped('electrodeExtension', 25.6, false)]).toEqual([33, 26, 25]);
    expect([stepped('fluxTemperature', 300, false), stepped('fluxHours', 2, false), stepped('fluxHours', 0, false), stepped('preheatMeasured', 1500, true)]).toEqual([295, 1.5, 0, 1500]);
    expect([stepped('preheatMeasured', 10, true, true), stepped('preheatMeasured', 80, false, true), stepped('electrodeExtension', 32, true, true)]).toEqual([25, 75, 35]);
  });

  it('goes by the units that are shown: 0.05 in are 1.27 mm, and 572 °F goes to 580 °F, which is 304.444 °C', () => {
    chooseUnits('us');
    expect(stepped('electrodeExtension', 25.4, true)).toBeCloseTo(26.67, 9);
    expect(stepped('electrodeExtension', stepped('electrodeExtension', 25.4, true), false)).toBeCloseTo(25.4, 9);
    expect(stepped('fluxTemperature', 300, true)).toBeCloseTo(304.4444, 4);
  });
});

describe('what earlier assignments offer', () => {
  const earlier: AssignmentAnswer[] = [
    { seam: 'c', run: 1, fluxLot: 'F-3', arcs: [{ arc: 1, wireLot: 'W-3', electrodeExtension: 30 }, { arc: 2, wireLot: 'V-3' }], preparation: { surfaceCleaned: true, trackParallel: false, flux: { dried: true, hours: 2 }, preheatMeasured: 95 } },
    { seam: 'b', run: 1, fluxLot: 'F-3' },
    { seam: 'a', run: 1, fluxLot: 'F-2', arcs: [{ arc: 1, wireLot: 'W-1' }] },
  ];

  it('are lots, the newest first, each once, after the current one', () => {
    expect(lotsFor(asked('fluxLot', { value: 'F-9' }), earlier)).toEqual(['F-9', 'F-3', 'F-2']);
    expect(lotsFor(asked('wireLot', { arc: 2 }), earlier)).toEqual(['V-3']);
    expect(lotsFor(asked('wireLot', { arc: 3 }), earlier)).toEqual([]);
  });

  it('are materials and settings that the job leaves open, but nothing that somebody has to do or measure, and nothing counts as confirmed', () => {
    const own: AssignmentAnswer = { seam: 'd', run: 1, fluxLot: 'F-4', arcs: [{ arc: 2, wireDiameter: 4 }], time: '2026-11-25T10:00:00.000Z', preparation: { polarityChecked: true } };
    const last = earlier[0] ?? own;
    expect(withMaterialsOf(own, askedPreparation(own, { preheat: { min: 80 } }, [1]), last)).toEqual({ seam: 'd', run: 1, fluxLot: 'F-4', arcs: [{ arc: 1, wireLot: 'W-3', electrodeExtension: 30 }, { arc: 2, wireDiameter: 4, wireLot: 'V-3' }] });
    expect(withMaterialsOf(own, askedPreparation(own, undefined), { seam: 'e', run: 1, preparation: { surfaceCleaned: true } })).toBeNull();
  });

  it('are the diameter that the procedure names, and its neighbours', () => {
    expect(diametersFor(asked('wireDiameter', { arc: 1, limits: [{ against: 'procedure', min: 3.95, max: 4.05 }] }))).toEqual([3.2, 4, 5]);
    expect(diametersFor(asked('wireDiameter', { arc: 1, value: 3.2, limits: [{ against: 'procedure', min: 1.55, max: 1.65 }] }))).toEqual([1.6, 2, 3.2]);
  });
});
