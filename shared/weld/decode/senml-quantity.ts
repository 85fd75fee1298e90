import { wrongValue } from './decoded.js';
import { quantities, sentNames, type SentName } from '../quantities.js';
import { mostArcs } from './item-limits.js';
import type { SenmlRecord } from './senml-resolve.js';

/** One record that Seamwarden knows, in the units of the API. */
export interface SenmlQuantity {
  readonly quantity: SentName;
  /** The arc that its name gives, or null where it gives none. */
  readonly arc: number | null;
  /** The value, or why it is refused. */
  readonly value: number | string;
}

// No letter may come right before the quantity: `overcurrent` is something else.
const quantityName = new RegExp(`(?:^|[^A-Za-z])(${sentNames.join('|')})$`);
const arcName = /(?:^|:)arc(\d{1,4}):$/;

/** Reads name, unit and value of a resolved record; null where the name is not one of the quantities. */
export function readQuantity(record: SenmlRecord): SenmlQuantity | null {
  const found = quantityName.exec(record.name)?.[1] as SentName | undefined;
  if (found === undefined) return null;
  const named = arcName.exec(record.name.slice(0, -found.length))?.[1];
  const arc = named === undefined ? null : Number(named);
  if (arc !== null && (arc < 1 || arc > mostArcs)) {
    return { quantity: found, arc, value: wrongValue(`${record.name}: arc`, arc, `arc1 to arc${mostArcs}`) };
  }
  return { quantity: found, arc, value: readValue(record, found) };
}

function readValue(record: SenmlRecord, quantity: SentName): number | string {
  const { low, high, senml: { unit, factor } } = quantities[quantity].sent;
  if (record.unit === null) return `${record.name}: unit missing; expected: ${JSON.stringify(unit)}`;
  if (record.unit !== unit) return wrongValue(`${record.name}: unit`, record.unit, JSON.stringify(unit));
  if (typeof record.value !== 'number') return wrongValue(`${record.name}: value`, record.value, 'a number (v)');
  const value = record.value * factor;
  if (value >= low && value <= high) return value;
  return wrongValue(record.name, record.value, `${low / factor} to ${high / factor} (${unit})`);
}
