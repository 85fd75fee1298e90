import { quantities, type QuantityName } from '../../shared/weld/quantities.js';
import { language, unitSystem, type UnitSystem } from './choices.js';

/** The text for a missing value. */
export const noValue = '–';

const narrowSpace = '\u202f';

/**
 * A number with that many decimals: a real minus sign, no minus before a zero, and narrow spaces between groups of three
 * digits from five digits before the point on (ISO 80000-1, 7.3.2). No value where it is null or not finite.
 */
export function formatNumber(value: number | null | undefined, decimals: number): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return noValue;
  const [whole = '0', part] = Math.abs(value).toFixed(decimals).split('.');
  const grouped = whole.length < 5 ? whole : whole.replace(/\B(?=(\d{3})+$)/g, narrowSpace);
  const digits = part === undefined ? grouped : `${grouped}.${part}`;
  return value < 0 && /[1-9]/.test(digits) ? `\u2212${digits}` : digits;
}

interface Shown {
  readonly unit: string;
  readonly decimals: number;
  /** Shown value = value × factor + offset. */
  readonly factor: number;
  readonly offset: number;
}

/** mm of one inch, exactly (international inch, 1959). */
const inch = 25.4;
/** kg of one pound, exactly (international pound, 1959). */
const pound = 0.45359237;

const same = (unit: string, decimals: number): Record<UnitSystem, Shown> => ({
  metric: { unit, decimals, factor: 1, offset: 0 },
  us: { unit, decimals, factor: 1, offset: 0 },
});
const scaled = (unit: string, decimals: number, usUnit: string, usDecimals: number, factor: number, offset = 0): Record<UnitSystem, Shown> => ({
  metric: { unit, decimals, factor: 1, offset: 0 },
  us: { unit: usUnit, decimals: usDecimals, factor, offset },
});

/** A quantity of the table: its metric unit and decimals are those of the table, `us` is what it is shown in otherwise. */
const ofTable = (name: QuantityName, us?: readonly [unit: string, decimals: number, factor: number, offset?: number]): Record<UnitSystem, Shown> => {
  const { unit, decimals } = quantities[name];
  return us === undefined ? same(unit, decimals) : scaled(unit, decimals, ...us);
};

const heat = ofTable('heatInput', ['kJ/in', 1, inch]);
const length = scaled('mm', 0, 'in', 1, 1 / inch);
const fineLength = scaled('mm', 1, 'in', 2, 1 / inch);
const variation: Record<UnitSystem, Shown> = { metric: { unit: '%', decimals: 1, factor: 100, offset: 0 }, us: { unit: '%', decimals: 1, factor: 100, offset: 0 } };

/** How each quantity is shown. The API uses the metric units, except that shares are not per cent. */
const shownQuantities = {
  current: ofTable('current'),
  voltage: ofTable('voltage'),
  wireFeedSpeed: ofTable('wireFeedSpeed', ['in/min', 0, 1000 / inch]),
  travelSpeed: ofTable('travelSpeed', ['in/min', 1, 1 / inch]),
  heatInput: heat,
  meanHeatInput: heat,
  t85: ofTable('t85'),
  arcEnergy: heat,
  energy: same('kJ', 1),
  currentVariation: variation,
  voltageVariation: variation,
  length,
  fineLength,
  travelled: fineLength,
  seamPosition: fineLength,
  feedMismatch: ofTable('feedMismatch', ['A·min/in', 2, inch / 1000]),
  degrees: same('°', 1),
  electrodeExtension: ofTable('electrodeExtension', ['in', 2, 1 / inch]),
  wireDiameter: scaled('mm', 1, 'in', 3, 1 / inch),
  wireLength: scaled('m', 2, 'ft', 1, 1000 / inch / 12),
  depositRate: scaled('kg/h', 2, 'lb/h', 2, 1 / pound),
  massPerLength: scaled('kg/m', 3, 'lb/ft', 3, (12 * inch) / 1000 / pound),
  currentDensity: scaled('A/mm²', 1, 'A/in²', 0, inch ** 2),
  electricEnergy: same('kWh', 3),
  duty: variation,
  balance: variation,
  ripple: variation,
  powerFactor: same('', 3),
  ratio: same('', 1),
  extensionChange: scaled('mm', 1, 'in', 2, 1 / inch),
  mass: scaled('kg', 3, 'lb', 3, 1 / pound),
  temperature: ofTable('plateTemperature', ['°F', 0, 1.8, 32]),
  time: same('s', 1),
  hours: same('h', 1),
  currentDeviation: same('A', 1),
  voltageDeviation: same('V', 2),
  travelSpeedDeviation: scaled('mm/min', 1, 'in/min', 2, 1 / inch),
  wireFeedSpeedDeviation: scaled('m/min', 3, 'in/min', 1, 1000 / inch),
  share: same('', 2),
  count: same('', 0),
} as const satisfies Record<string, Record<UnitSystem, Shown>>;

export type ShownQuantity = keyof typeof shownQuantities;

export function isShownQuantity(name: string): name is ShownQuantity {
  return name in shownQuantities;
}

export function unitOf(name: ShownQuantity): string {
  return shownQuantities[name][unitSystem.value].unit;
}

/** The unit that the API uses for the quantity; shares are not converted. */
export function apiUnitOf(name: ShownQuantity): string {
  return shownQuantities[name].metric.unit;
}

/** The value in the chosen unit, as a number (for charts and bars). */
export function inUnit(name: ShownQuantity, value: number): number {
  const { factor, offset } = shownQuantities[name][unitSystem.value];
  return value * factor + offset;
}

/** A value that was entered in the chosen unit, in the API's unit. */
export function fromUnit(name: ShownQuantity, entered: number): number {
  const { factor, offset } = shownQuantities[name][unitSystem.value];
  return (entered - offset) / factor;
}

/** How many decimals a reading of the quantity has in the chosen unit. */
export function decimalsOf(name: ShownQuantity): number {
  return shownQuantities[name][unitSystem.value].decimals;
}

/** The digits alone, in the chosen unit. */
export function digitsOf(name: ShownQuantity, value: number | null | undefined): string {
  return formatNumber(value === null || value === undefined ? null : inUnit(name, value), decimalsOf(name));
}

/** How many decimals a converted value may have beyond those of a reading, if they make it exact. */
const extraDecimals = [0, 1, 2];

/** A value in the chosen unit as a person would type it, with as few decimals as keep it exact within `error` (relative): 43.18 for a reading of 43.2. */
export function editableText(name: ShownQuantity, value: number, error: number): string {
  const converted = inUnit(name, value);
  const isExact = (decimals: number): boolean => Math.abs(Number(converted.toFixed(decimals)) - converted) <= error * Math.abs(converted);
  return String(Number(converted.toFixed(extraDecimals.map((extra) => decimalsOf(name) + extra).find(isExact) ?? decimalsOf(name))));
}

/** The unit as it follows the name of what it measures: ", mm". */
export function behindLabel(unit: string): string {
  return `${language.value === 'zh' ? '，' : ', '}${unit}`;
}

/** A quantity's name with its unit, for places that show only the digits: "Length, mm". */
export function labelled(label: string, name: ShownQuantity): string {
  return `${label}${behindLabel(unitOf(name))}`;
}

/** Digits and unit as one text. */
export function shown(name: ShownQuantity, value: number | null | undefined): string {
  const unit = unitOf(name);
  return unit === '' ? digitsOf(name, value) : `${digitsOf(name, value)}\u00a0${unit}`;
}

/** The value with all of its digits in the API's unit; a share has no unit. */
export function asStored(name: ShownQuantity, value: number): string {
  const { unit, factor } = shownQuantities[name].metric;
  return unit === '' || factor !== 1 ? String(value) : `${value}\u00a0${unit}`;
}
