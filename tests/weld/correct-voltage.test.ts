import fc from 'fast-check';
import { expect, it } from 'vitest';
import { correctVoltage } from '../../shared/weld/arcs/correct-voltage.js';
import { placeItem, startDeviceClock } from '../../shared/weld/items/device-clock.js';
import { shapedItem, type Values } from '../../shared/weld/items/item.js';
import { orderItem } from '../../shared/weld/items/order.js';
import { pastDue, travelBasis, type ArcSensors } from '../../shared/weld/procedure/sensors.js';
import { unsentValues } from '../unsent.js';

/** The voltage of an item after correction, and what was sent, null where nothing was corrected. */
function corrected(sensors: Omit<ArcSensors, 'arc'>, current: Values, voltage: Values): { voltage: Values; raw: Values | null } {
  const count = Math.max(...[current, voltage].map((own) => (typeof own === 'number' ? 1 : own.length)));
  const interval = count > 1 ? 1 : null;
  const item = shapedItem({ boot: 'b', seq: 1, time: 1e15, arc: 1, interval, count }, { ...unsentValues, current, voltage });
  const placed = correctVoltage(placeItem(startDeviceClock(), orderItem(item, 0, 1e15, 0), 1e6), { arcs: [{ arc: 1, ...sensors }] });
  return { voltage: placed.item.voltage, raw: placed.raw };
}

const atSource = { voltagePickup: 'source', cableResistance: 9.4 } as const;

// 95 mm² copper, 50 m out and back together: 9.4 mΩ, 5.64 V at 600 A; Ohm's law, worked out by hand.
it.each([
  ['both with signs', {}, 600, 34, 28.36],
  ['both with signs, electrode negative', {}, -600, -34, -28.36],
  ['neither with its sign', { signedCurrent: false, signedVoltage: false }, 600, 34, 28.36],
  ['the current alone without its sign', { signedCurrent: false }, 600, -34, -28.36],
  ['the voltage alone without its sign', { signedVoltage: false }, -600, 34, 28.36],
  ['no voltage and one sign: nothing to take it from', { signedCurrent: false }, 600, 0, 0],
  ['no voltage and both signs: the result is not clamped', {}, 600, 0, -5.64],
  ['a wire that touches the plate', { signedVoltage: false }, 600, 2, -3.64],
])('voltage at the source is corrected: %s', (_, signs, current, voltage, at) => {
  const found = corrected({ ...atSource, ...signs }, current, voltage);
  expect(found.voltage).toBeCloseTo(at, 9);
  expect(found.raw).toBe(voltage);
});

it('a voltage picked up at the contact tube, and one whose cable is not known, stay as they were sent', () => {
  for (const sensors of [{}, { ...atSource, voltagePickup: 'contactTube' } as const, { voltagePickup: 'source' } as const, { cableResistance: 9.4 }]) {
    expect(corrected(sensors, 600, 34)).toEqual({ voltage: 34, raw: null });
  }
});

it('samples of a block are corrected one by one, whichever of the two is one value for all of it', () => {
  expect(corrected(atSource, [100, 200], 30)).toEqual({ voltage: [30 - 0.94, 30 - 1.88], raw: 30 });
  const { voltage } = corrected(atSource, 100, [30, 20]);
  expect(voltage).toEqual([30 - 0.94, 20 - 0.94]);
});

it('the correction takes exactly the power that the cable turns into heat from steady values', () => {
  // P = u·i − i²·R, whichever values are sent with their signs (electrode positive).
  fc.assert(fc.property(fc.double({ min: 100, max: 1500, noNaN: true }), fc.double({ min: 15, max: 60, noNaN: true }), fc.double({ min: 0, max: 9, noNaN: true }), fc.boolean(), fc.boolean(), (current, voltage, cableResistance, signedCurrent, signedVoltage) => {
    const { voltage: at } = corrected({ voltagePickup: 'source', cableResistance, signedCurrent, signedVoltage }, current, voltage);
    expect((at as number) * current).toBeCloseTo(voltage * current - (current * current * cableResistance) / 1e3, 6);
  }));
});

it('what is past due is past due from the day after its date', () => {
  const sensors = { travelCalibrationDue: '2027-01-15', arcs: [{ arc: 2, calibrationDue: '2027-01-14' }, { arc: 1, calibrationDue: '2027-01-15' }] };
  expect(pastDue(sensors, '2027-01-14')).toEqual([]);
  expect(pastDue(sensors, '2027-01-15')).toEqual(['current arc 2', 'voltage arc 2']);
  expect(pastDue(sensors, '2027-01-16')).toEqual(['current arc 1', 'voltage arc 1', 'current arc 2', 'voltage arc 2', 'travel']);
});

it('travel is measured by an encoder or a rotator, and declared by a set point or a stopwatch', () => {
  expect((['encoder', 'rotator', 'setPoint', 'stopwatch'] as const).map((travelSource) => travelBasis({ travelSource }))).toEqual(['measured', 'measured', 'declared', 'declared']);
  expect([travelBasis({}), travelBasis(null)]).toEqual([null, null]);
});
