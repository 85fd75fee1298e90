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
  return isCorrected(item.arc, sensors) ? { ...placed, item: { ...item, voltage: voltageAtArc(item, sensors) }, raw: item.voltage } : placed;
}

function isCorrected(arc: number, sensors: Sensors | null): boolean {
  const own = sensorsOfArc(sensors, arc);
  return own?.voltagePickup === 'source' && own.cableResistance !== undefined;
}

/** The voltage of an item at the arc; as it was sent where nothing allows for a correction. */
export function voltageAtArc(item: Pick<Item, 'arc' | 'count' | 'current' | 'voltage'>, sensors: Sensors | null): Values {
  const own = sensorsOfArc(sensors, item.arc);
  if (own?.voltagePickup !== 'source' || own.cableResistance === undefined) return item.voltage;
  const ohms = own.cableResistance / 1e3;
  const alike = (own.signedCurrent ?? true) === (own.signedVoltage ?? true);
  const at = (k: number): number => {
    const voltage = valueAt(item.voltage, k);
    const current = valueAt(item.current, k);
    return voltage - (alike ? current : Math.sign(voltage) * Math.abs(current)) * ohms;
  };
  const single = typeof item.voltage === 'number' && typeof item.current === 'number';
  return single ? at(0) : Array.from({ length: item.count }, (_, k) => at(k));
}
