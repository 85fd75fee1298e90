import { wrongValue } from './decoded.js';
import { mostArcs, quantityLimits, type QuantityLimit } from './item-limits.js';
import type { SenmlRecord } from './senml-resolve.js';

export type QuantityName = QuantityLimit['name'];

/** One record that Seamwarden knows, in the units of the outside. */
export interface SenmlQuantity {
  readonly quantity: QuantityName;
  /** The arc its name gives, or null where it gives none. */
  readonly arc: number | null;
  /** The value, or why it is refused. */
  readonly value: number | string;
}

/** Units of RFC 8428, section 12.1, and what turns one of them into one of the outside. */
const senmlUnits: Readonly<Record<QuantityName, { readonly unit: string; readonly factor: number }>> = {
  current: { unit: 'A', factor: 1 },
  voltage: { unit: 'V', factor: 1 },
  travelSpeed: { unit: 'm/s', factor: 60_000 },
  wireFeedSpeed: { unit: 'm/s', factor: 60 },
  travel: { unit: 'm', factor: 1000 },
  plateTemperature: { unit: 'Cel', factor: 1 },
};

// No letter may stand right before the quantity: `overcurrent` is something else.
const quantityName = /(?:^|[^A-Za-z])(current|voltage|travelSpeed|wireFeedSpeed|travel|plateTemperature)$/;
const arcName = /(?:^|:)arc(\d{1,4}):$/;

/** Reads name, unit and value of a resolved record; null where the name is none of the quantities. */
export function readQuantity(record: SenmlRecord): SenmlQuantity | null {
  const found = quantityName.exec(record.name)?.[1] as QuantityName | undefined;
  if (found === undefined) return null;
  const named = arcName.exec(record.name.slice(0, -found.length))?.[1];
  const arc = named === undefined ? null : Number(named);
  if (arc !== null && (arc < 1 || arc > mostArcs)) {
    return { quantity: found, arc, value: wrongValue(`${record.name}: arc`, arc, `arc1 to arc${mostArcs}`) };
  }
  return { quantity: found, arc, value: readValue(record, found) };
}

function readValue(record: SenmlRecord, quantity: QuantityName): number | string {
  const { unit, factor } = senmlUnits[quantity];
  if (record.unit === null) return `${record.name}: unit missing; expected: ${JSON.stringify(unit)}`;
  if (record.unit !== unit) return wrongValue(`${record.name}: unit`, record.unit, JSON.stringify(unit));
  if (typeof record.value !== 'number') return wrongValue(`${record.name}: value`, record.value, 'a number (v)');
  const limit = quantityLimits[quantity];
  const value = record.value * factor;
  if (value >= limit.low && value <= limit.high) return value;
  return wrongValue(record.name, record.value, `${limit.low / factor} to ${limit.high / factor} (${unit})`);
}
