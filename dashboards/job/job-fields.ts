import { unitSystem } from '../shared/choices.js';
import { inchWire } from '../shared/inch-wire.js';
import { readNumber } from '../shared/read-number.js';
import { fromUnit, inUnit, editableText, unitOf, type ShownQuantity } from '../shared/units.js';
import type { WrongField } from './job-draft.js';

interface FieldSpec {
  /** null where the number has no unit. */
  readonly quantity: ShownQuantity | null;
  readonly whole: boolean;
  readonly ofArc: boolean;
  /** What the API accepts, in its own unit; `above` if the lower end itself is not accepted. */
  readonly least: number;
  readonly most: number;
  readonly above: boolean;
  /** The text of a value in the form. */
  readonly text: (value: number | undefined) => string;
}

/** More digits than any scale in a shop has. */
const digits = 8;
/** The relative error that rounding a stored value may leave in what was typed. */
const keptError = 1e-9;

const spec = (quantity: ShownQuantity | null, least: number, most: number, more: { readonly above?: boolean; readonly whole?: boolean; readonly ofArc?: boolean; readonly wire?: boolean } = {}): FieldSpec => ({
  quantity,
  whole: more.whole ?? false,
  ofArc: more.ofArc ?? false,
  least,
  most,
  above: more.above ?? false,
  text: (value) => (value === undefined ? '' : ((more.wire === true && unitSystem.value === 'us' ? inchWire(value) : null) ?? fieldText(quantity, value))),
});

/** A value as a person would type it in the chosen unit: 236.22 in for 6000 mm. A value that nobody retypes keeps all of its digits (`checkNumber`). */
function fieldText(quantity: ShownQuantity | null, value: number): string {
  if (quantity === null) return String(value);
  return inUnit(quantity, value) === value ? String(Number(value.toPrecision(digits))) : editableText(quantity, value, keptError);
}

/** The numbers of a job, with the limits that the API has. */
export const numberFields = {
  run: spec(null, 1, 9999, { whole: true }),
  seamLength: spec('fineLength', 0, 1e7, { above: true }),
  thickness: spec('wireDiameter', 0, 1000, { above: true }),
  side: spec(null, 1, 9, { whole: true }),
  startOffset: spec('fineLength', -1e7, 1e7),
  runOn: spec('fineLength', 0, 1e5),
  runOff: spec('fineLength', 0, 1e5),
  diameter: spec('fineLength', 1, 1e6),
  lastRun: spec(null, 1, 9999, { whole: true }),
  preheat: spec('temperature', -100, 1500),
  wireDiameter: spec('wireDiameter', 0, 20, { above: true, ofArc: true, wire: true }),
  electrodeExtension: spec('electrodeExtension', 0, 1000, { above: true, ofArc: true }),
  spoolMass: spec('mass', 0, 5000, { above: true, ofArc: true }),
} as const satisfies Record<string, FieldSpec>;

export type NumberField = keyof typeof numberFields;

/** The value of a typed number in the API's unit, null if nothing is typed, or what is wrong. Numbers are read as `readNumber` does. */
export function checkNumber(name: NumberField, typed: string, before: number | undefined): { readonly value: number } | WrongField | null {
  const { quantity, whole, least, most, above, text } = numberFields[name];
  const read = readNumber(typed, quantity !== null && unitOf(quantity) === 'in');
  if (read.is === 'empty') return null;
  if (before !== undefined && typed === text(before)) return { value: before };
  if (read.is !== 'number') return read.is === 'thousands' ? 'thousands' : 'notANumber';
  const number = read.value;
  if (whole && !Number.isInteger(number)) return 'notWhole';
  const value = quantity === null ? number : Number(fromUnit(quantity, number).toPrecision(12));
  return value < least || value > most || (above && value === least) ? 'outOfRange' : { value };
}

/** The limits of a field in the chosen unit. */
export function limitsOf(name: NumberField): { readonly low: number; readonly high: number } {
  const { quantity, least, most } = numberFields[name];
  const shown = (value: number): number => (quantity === null ? value : Number(inUnit(quantity, value).toPrecision(6)));
  return { low: shown(least), high: shown(most) };
}
