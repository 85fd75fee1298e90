import type { PlacedItem } from '../items/device-clock.js';
import { valueAt, type Item, type Values } from '../items/item.js';
import { sensorsOfArc, type Sensors } from '../procedure/sensors.js';

/**
 * The item with its voltage at the arc instead of at the power source, where the declared cable resistance R (mΩ, out and back together) allows for that:
 * `u − i·R/1000` where current and voltage both have signs or neither has, else `u − sign(u)·|i|·R/1000` (Ohm's law). The result is not clamped. What was
 * sent is kept beside it.
 */
export function correctVoltage(placed: PlacedItem, sensors: Sensors | null): PlacedItem {
  const { item } = placed;
  const voltage = voltageAtArc(item, sensors);
  return voltage === null ? placed : { ...placed, item: { ...item, voltage }, raw: item.voltage };
}

/** The voltage of an item at the arc; null where nothing allows for a correction. */
export function voltageAtArc({ arc, count, current, voltage }: Pick<Item, 'arc' | 'count' | 'current' | 'voltage'>, sensors: Sensors | null): Values | null {
  const own = sensorsOfArc(sensors, arc);
  if (own?.voltagePickup !== 'source' || own.cableResistance === undefined) return null;
  const { cableResistance } = own;
  const alike = (own.signedCurrent ?? true) === (own.signedVoltage ?? true);
  const at = (k: number): number => {
    const sent = valueAt(voltage, k);
    const amperes = valueAt(current, k);
    return sent - ((alike ? amperes : Math.sign(sent) * Math.abs(amperes)) * cableResistance) / 1e3;
  };
  const single = typeof voltage === 'number' && typeof current === 'number';
  return single ? at(0) : Array.from({ length: count }, (_, k) => at(k));
}
