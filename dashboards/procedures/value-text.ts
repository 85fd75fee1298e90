import { apiUnitOf, noValue, unitOf, type ShownQuantity } from '../shared/units.js';
import { converts, isEchoed, entryText, givenNumber, type Entry } from './entry.js';

const space = '\u00a0';

/** A value of a procedure to its last digit, in the chosen unit. */
export function valueText(quantity: ShownQuantity | null, value: number | undefined): string {
  if (value === undefined) return noValue;
  const text = entryText(givenNumber(value), quantity).replace('-', '\u2212');
  return quantity === null ? text : `${text}${space}${unitOf(quantity)}`;
}

/** The API's value beside one that is shown in another unit; null where it is the same. */
export function metricText(quantity: ShownQuantity | null, value: number | null | undefined): string | null {
  if (quantity === null || value === null || value === undefined || Number.isNaN(value) || !converts(quantity)) return null;
  return `${String(value).replace('-', '\u2212')}${space}${apiUnitOf(quantity)}`;
}

/** Both ends in the API's unit beside those that are shown in another; null where they are the same. */
export function windowMetric(quantity: ShownQuantity | null, { min, max }: { readonly min?: number | undefined; readonly max?: number | undefined }): string | null {
  const [low, high] = [metricText(quantity, min), metricText(quantity, max)];
  return low === null && high === null ? null : [low, high].map((text) => text ?? noValue).join(' … ');
}

/** The stored value, if it differs from the field: in another unit, or typed with a comma or as a fraction. */
export function keptText(quantity: ShownQuantity | null, entry: Entry): string | null {
  const metric = metricText(quantity, entry.value);
  if (metric !== null || !isEchoed(entry)) return metric;
  return valueText(quantity, entry.value ?? undefined);
}
