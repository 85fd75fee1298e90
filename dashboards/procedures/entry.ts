import { unitSystem, type UnitSystem } from '../shared/choices.js';
import { inchWire } from '../shared/inch-wire.js';
import { needsEcho, readNumber } from '../shared/read-number.js';
import { editableText, fromUnit, inUnit, unitOf, type ShownQuantity } from '../shared/units.js';

/**
 * The content of a field. `value` is in the API's unit: null if nothing is entered, NaN if the text is not a number. `text` is the text as
 * typed, in the units of `system`; null if the value came from the service.
 */
export interface Entry { readonly text: string | null; readonly system: UnitSystem; readonly value: number | null }

export const noEntry: Entry = { text: '', system: 'metric', value: null };

/** Enough digits for an entry of five digits to survive conversion and rounding. */
const keptDigits = 7;
/** The relative error that rounding to that many digits may leave. */
const keptError = 5e-7;
/** All digits of a value that is only shifted by powers of ten. */
const allDigits = 12;

/** A number in the chosen unit, as it was typed. Without conversion it is kept to the digit. */
export function typedNumber(text: string, quantity: ShownQuantity | null): Entry {
  const system = unitSystem.peek();
  const read = readNumber(text, quantity !== null && unitOf(quantity) === 'in');
  if (read.is === 'empty') return { text, system, value: null };
  if (read.is !== 'number') return { text, system, value: Number.NaN };
  const value = quantity === null ? read.value : fromUnit(quantity, read.value);
  return { text, system, value: value === read.value ? read.value : rounded(value, keptDigits) };
}

export function typedText(text: string): Entry {
  return { ...noEntry, text };
}

/** A number in the API's unit, as the service gave it; it stays exact as long as nobody types over it. */
export function givenNumber(value: number): Entry {
  return { text: null, system: 'metric', value };
}

/** Why the typed text is not a number. */
export function numberProblem({ text }: Entry): 'noNumber' | 'thousands' {
  return readNumber(text ?? '').is === 'thousands' ? 'thousands' : 'noNumber';
}

/** The text of the field in the chosen units. */
export function entryText(entry: Entry, quantity: ShownQuantity | null): string {
  const { text, system, value } = entry;
  if (text !== null && (quantity === null || value === null || Number.isNaN(value) || system === unitSystem.value)) return text;
  if (value === null) return '';
  if (quantity === null) return String(value);
  return converts(quantity) ? convertedText(quantity, value) : String(rounded(inUnit(quantity, value), allDigits));
}

/** Whether the form repeats what was typed as it was understood. */
export function isEchoed({ text, value }: Entry): boolean {
  return text !== null && value !== null && !Number.isNaN(value) && needsEcho(text);
}

/** As many digits as a reading has, more only where they make the value exact: 22 in/min, 43.18 kJ/in, 0.59 in for 15 mm. A wire by its size. */
function convertedText(quantity: ShownQuantity, value: number): string {
  const size = quantity === 'wireDiameter' ? inchWire(value) : null;
  return size ?? editableText(quantity, value, keptError);
}

/** Whether the chosen unit differs from the API's; showing a share as per cent does not count. */
export function converts(quantity: ShownQuantity): boolean {
  return unitSystem.value === 'us' && !(inUnit(quantity, 0) === 0 && (inUnit(quantity, 1) === 1 || inUnit(quantity, 1) === 100));
}

export function rounded(value: number, digits: number): number {
  return Number(value.toPrecision(digits));
}
