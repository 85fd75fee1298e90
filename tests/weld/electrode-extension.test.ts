import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { extensionAt, meltingRate } from '../../shared/weld/run/melting-rate.js';
import type { ProcedureParameters } from '../../shared/weld/procedure/zone.js';
import { burningRows } from './burning-rows.js';
import { figuresOfRows, wire } from './summed-weld.js';

/** kg of one pound and mm of one inch, exactly. */
const pound = 0.45359237;
const inch = 25.4;

/** A weld of one arc at 600 mm/min, 1 mm to a row, `mm` long; current A and feed m/min at a place. */
function extensionOf(mm: number, at: (place: number) => readonly [current: number, feed: number | undefined], own: object = { diameter: 4 }, more: Partial<ProcedureParameters> = {}, electrodeExtension: number | null = 32) {
  const rows = burningRows(mm / 10, (time) => {
    const [current, feed] = at(10 * time);
    return { travelSpeed: 600, arcs: [{ current, voltage: 30, ...(feed === undefined ? {} : { wireFeedSpeed: feed }) }] };
  });
  const [arc] = figuresOfRows(rows, { wires: { 1: wire(own) }, ...more }, electrodeExtension === null ? [] : [{ arc: 1, electrodeExtension }]).arcs;
  if (arc === undefined) throw new Error('no arc');
  const why = Object.fromEntries(Object.entries(arc.reasons).filter(([name]) => name.startsWith('extension.')).map(([name, reason]) => [name.slice('extension.'.length), reason.code]));
  return { ...arc.extension, why };
}

describe('electrode extension', () => {
  it('has the melting rate that its equation gives, and the extension for it', () => {
    // 350 A, 3/32 in, 1 in: 9.32 lb/h by the equation (slides on submerged arc print 9.9).
    expect((meltingRate(350, (3 / 32) * inch, inch) * 60) / pound).toBeCloseTo(9.32, 2);
    fc.assert(
      fc.property(fc.double({ min: 100, max: 1500, noNaN: true }), fc.double({ min: 1.2, max: 6, noNaN: true }), fc.double({ min: 5, max: 120, noNaN: true }), (current, diameter, extension) => {
        expect(extensionAt(meltingRate(current, diameter, extension), current, diameter)).toBeCloseTo(extension, 6);
        expect(meltingRate(current, diameter, extension + 1)).toBeGreaterThan(meltingRate(current, diameter, extension));
      }),
    );
  });

  it('is compared with the procedure and with the trade', () => {
    const of = (declared: number, diameter: number, extensionWindow: object | null = { min: 24, max: 40 }) => extensionOf(50, () => [600, 1.2], { diameter, extensionWindow }, {}, declared);
    expect(of(32, 4)).toMatchObject({ declared: 32, ratioToDiameter: 8, procedure: 'inside', trade: 'inside' });
    expect(of(40, 4)).toMatchObject({ ratioToDiameter: 10, procedure: 'inside', trade: 'inside' });
    expect(of(41, 4)).toMatchObject({ procedure: 'outside', trade: 'outside' });
    // 6 · 3.2 mm is 19.2 mm, whatever the product in binary is.
    expect(of(19.2, 3.2, null)).toMatchObject({ ratioToDiameter: 6, procedure: null, trade: 'inside', why: { procedure: 'noExtensionLimits' } });
    expect(extensionOf(50, () => [600, 1.2], { extensionWindow: { min: 24 } }, {}, null)).toMatchObject({ declared: null, ratioToDiameter: null, procedure: null, trade: null, why: { declared: 'noExtension', trade: 'noExtension', procedure: 'noExtension' } });
    expect(extensionOf(50, () => [600, 1.2], { extensionWindow: { min: 33 } })).toMatchObject({ procedure: 'outside', trade: null, why: { trade: 'noDiameter' } });
  });

  it('is estimated to have grown where less current melts the same feed', () => {
    // 4 mm, declared 32 mm, 1.2 m/min: c = 0.997017 at 600 A; 585 A need 37.642059 mm.
    const found = extensionOf(400, (place) => [place < 250 ? 600 : 585, 1.2]);
    expect(found.estimatedFrom?.factor).toBeCloseTo(0.997017, 6);
    expect(found.driftEstimate).toBeCloseTo(5.642059, 6);
    expect(found.basis).toContain('estimate');
    expect(found.estimatedFrom).toMatchObject({ first: { current: 600, wireFeedSpeed: 1.2 }, last: { current: 585, wireFeedSpeed: 1.2 } });
    // Two wires at twice the current: the current of one wire counts.
    expect(extensionOf(400, (place) => [place < 250 ? 1200 : 1170, 1.2], { diameter: 4, count: 2 }).driftEstimate).toBeCloseTo(5.642059, 6);
    expect(extensionOf(400, (place) => [place < 250 ? -600 : -585, 1.2]).driftEstimate).toBeCloseTo(5.642059, 6);
    expect(extensionOf(400, () => [600, 1.2]).driftEstimate).toBeCloseTo(0, 6);
  });

  it('takes exactly the first and the last 100 mm, splitting rows at their borders', () => {
    // Rows of 1 mm; 40 mm at 700 A, then 600 A; the last 25.5 mm at 500 A (the row is split).
    const rows = extensionOf(350, (place) => [place < 40 ? 700 : place > 320 ? 500 : 600, 1.2]);
    expect(rows.estimatedFrom?.first.current).toBeCloseTo((40 * 700 + 60 * 600) / 100, 9);
    expect(rows.estimatedFrom?.last.current).toBeCloseTo((30 * 500 + 70 * 600) / 100, 9);
    // At 420 mm/min a row is 0.7 mm: 100 mm end six sevenths into row 142, and the last begin one seventh into the 143rd row from the end.
    const slow = burningRows(60, (time) => ({ travelSpeed: 420, arcs: [{ current: time < 14.2 ? 600 : time > 45.8 ? 580 : time > 45.7 ? 540 : time < 14.3 ? 530 : 700, voltage: 30, wireFeedSpeed: 1.2 }] }));
    const [arc] = figuresOfRows(slow, { wires: { 1: wire({ diameter: 4 }) } }, [{ arc: 1, electrodeExtension: 32 }]).arcs;
    expect(arc?.extension.estimatedFrom?.first.current).toBeCloseTo((142 * 600 + (6 / 7) * 530) / (142 + 6 / 7), 9);
    expect(arc?.extension.estimatedFrom?.last.current).toBeCloseTo((142 * 580 + (6 / 7) * 540) / (142 + 6 / 7), 9);
  });

  it('says why nothing can be estimated', () => {
    const code = (...parts: Parameters<typeof extensionOf>): string | undefined => extensionOf(...parts).why['driftEstimate'];
    const steady = (): readonly [number, number] => [600, 1.2];
    expect(code(299, steady)).toBe('weldZoneShorter');
    expect(code(300, steady)).toBeUndefined();
    expect(code(400, () => [600, undefined])).toBe('notSent');
    expect(code(400, (place) => [600, place > 250 ? undefined : 1.2])).toBe('notSent');
    expect(code(400, steady, {})).toBe('noDiameter');
    expect(code(400, steady, { diameter: 4 }, {}, null)).toBe('noExtension');
    expect(code(400, steady, { diameter: 4 }, { alternating: [1] })).toBe('alternatingCurrent');
    // Half of the feed at the same current: even without any extension more would be melted.
    expect(code(400, (place) => [600, place > 250 ? 0.6 : 1.2])).toBe('noSuchExtension');
  });
});
