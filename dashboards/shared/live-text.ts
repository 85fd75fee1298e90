import { limitText, distinctText } from './alarm-sentence.js';
import { unitSystem } from './choices.js';
import { apiUnitOf, digitsOf, formatNumber, inUnit, shown, unitOf, type ShownQuantity } from './units.js';

/** How many decimals a live value has if fewer than in the record: heat input has two, as the third only flickers. */
function decimals(name: ShownQuantity): number | null {
  return name === 'heatInput' && unitSystem.value === 'metric' ? 2 : null;
}

/** A live value's digits, without its unit. */
export function liveDigits(name: ShownQuantity, value: number | null): string {
  const own = decimals(name);
  return own === null || value === null ? digitsOf(name, value) : formatNumber(inUnit(name, value), own);
}

/** The digits of a limit beside a live value: as many as the value has, or as the limit needs to be exact in the unit in which it was set. In other units no number of digits makes it exact. */
export function limitDigits(name: ShownQuantity, value: number): string {
  if (unitOf(name) !== apiUnitOf(name)) return liveDigits(name, value);
  const own = decimals(name);
  const short = liveDigits(name, value);
  return own !== null && Math.abs(Number(inUnit(name, value).toFixed(own)) - inUnit(name, value)) < 1e-9 ? short : (limitText(name, value).split('\u00a0')[0] ?? short);
}

/** How far a value lies beyond its limit, with the unit; never shown as zero. */
export function liveText(name: ShownQuantity, value: number): string {
  const own = decimals(name);
  if (own === null) return distinctText(name, value, 0);
  const text = formatNumber(inUnit(name, value), own);
  return Number(text) === 0 ? shown(name, value) : `${text}\u00a0${unitOf(name)}`;
}
