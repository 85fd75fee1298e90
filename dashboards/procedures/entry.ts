import { unitSystem } from '../shared/choices.js';
import type { UnitSystem } from '../shared/choices.js';
import { fromUnit, inUnit } from '../shared/units.js';
import type { ShownQuantity } from '../shared/units.js';

/**
 * What stands in a field. `value` is in the API's unit: null where nothing is entered, NaN where what is entered is no number. `text` is as it was
 * typed, in the units of `system`; null where the value came from the service.
 */
export interface Entry {
  readonly text: string | null;
  readonly system: UnitSystem;
  readonly value: number | null;
}

export const noEntry: Entry = { text: '', system: 'metric', value: null };

/** Enough digits that an entry of five digits comes back as it was entered after it was converted and rounded. */
const keptDigits = 7;
const shownDigits = 5;

const numberText = /^[-+]?(\d+\.?\d*|\.\d+)$/;

/** A number in the chosen unit, as it was typed. Without conversion it is kept to the digit. */
export function typedNumber(text: string, quantity: ShownQuantity | null): Entry {
  const plain = text.trim().replaceAll('\u2212', '-').replaceAll(/[\u202f\u00a0 ]/g, '');
  const system = unitSystem.peek();
  if (plain === '') return { text, system, value: null };
  if (!numberText.test(plain)) return { text, system, value: Number.NaN };
  const typed = Number(plain);
  const value = quantity === null ? typed : fromUnit(quantity, typed);
  return { text, system, value: value === typed ? typed : rounded(value, keptDigits) };
}

export function typedText(text: string): Entry {
  return { ...noEntry, text };
}

/** A number in the API's unit, as the service gave it; it stays exact as long as nobody types over it. */
export function givenNumber(value: number): Entry {
  return { text: null, system: 'metric', value };
}

/** What the field shows in the chosen units. */
export function entryText(entry: Entry, quantity: ShownQuantity | null): string {
  const { text, system, value } = entry;
  if (text !== null && (quantity === null || value === null || Number.isNaN(value) || system === unitSystem.value)) return text;
  if (value === null) return '';
  if (quantity === null) return String(value);
  const converted = inUnit(quantity, value);
  return String(converts(quantity) ? rounded(converted, shownDigits) : rounded(converted, keptDigits + shownDigits));
}

/** Whether the chosen unit of the quantity is another than the API's; per cent of a share is none. */
export function converts(quantity: ShownQuantity): boolean {
  return unitSystem.value === 'us' && !(inUnit(quantity, 0) === 0 && (inUnit(quantity, 1) === 1 || inUnit(quantity, 1) === 100));
}

export function rounded(value: number, digits: number): number {
  return Number(value.toPrecision(digits));
}
