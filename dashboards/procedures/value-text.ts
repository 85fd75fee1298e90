import { noValue } from '../shared/format.js';
import { apiUnitOf, unitOf } from '../shared/units.js';
import type { ShownQuantity } from '../shared/units.js';
import { converts, entryText, givenNumber } from './entry.js';

const space = '\u00a0';

/** A value of a procedure to its last digit, in the chosen unit. */
export function valueText(quantity: ShownQuantity | null, value: number | undefined): string {
  if (value === undefined) return noValue;
  const text = entryText(givenNumber(value), quantity).replace('-', '\u2212');
  return quantity === null ? text : `${text}${space}${unitOf(quantity)}`;
}

/** The API's value beside one that is shown or was typed in another unit; null where there is nothing to add. */
export function keptText(quantity: ShownQuantity | null, value: number | null): string | null {
  if (quantity === null || value === null || Number.isNaN(value) || !converts(quantity)) return null;
  return `${String(value).replace('-', '\u2212')}${space}${apiUnitOf(quantity)}`;
}
