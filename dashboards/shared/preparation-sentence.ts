import type { PreparationState } from '../../shared/api-types/preparation.js';
import type { MissableEntry } from '../../shared/weld/procedure/assignment.js';
import type { AskedEntry, EntryLimit, PreparationEntry } from '../../shared/weld/preparation/preparation.js';
import { preparationWords } from './preparation-words.js';
import { digitsOf, shown, type ShownQuantity } from './units.js';

/** How the numbers among the entries are shown. */
export const entryQuantities = {
  fluxTemperature: 'temperature',
  fluxHours: 'hours',
  electrodeExtension: 'electrodeExtension',
  wireDiameter: 'wireDiameter',
  preheatMeasured: 'temperature',
} as const satisfies Partial<Record<PreparationEntry, ShownQuantity>>;

export type NumberEntry = keyof typeof entryQuantities;

export function isNumberEntry(entry: MissableEntry): entry is NumberEntry {
  return entry in entryQuantities;
}

/** "Wire lot, arc 2"; the arc is left out where the carriage has one alone. */
export function entryName({ entry, arc }: { readonly entry: MissableEntry; readonly arc: number | null }, arcs: number): string {
  const say = preparationWords();
  return arc === null || arcs < 2 ? say[entry] : say.ofArc(say[entry], arc);
}

export function entryValue({ entry, value }: Pick<AskedEntry, 'entry' | 'value'>): string {
  const say = preparationWords();
  if (value === null) return say.notEntered;
  if (typeof value === 'boolean') return value ? say.yes : say.no;
  return typeof value === 'number' && isNumberEntry(entry) ? shown(entryQuantities[entry], value) : String(value);
}

/** "24 to 40 mm", "at least 15 °C"; null if both ends are open. */
export function rangeWords(quantity: ShownQuantity, { min, max }: { readonly min?: number | null | undefined; readonly max?: number | null | undefined }): string | null {
  const say = preparationWords();
  const low = min ?? null;
  const high = max ?? null;
  if (low !== null && high !== null) return say.range(digitsOf(quantity, low), shown(quantity, high));
  if (low !== null) return say.from(shown(quantity, low));
  return high === null ? null : say.upTo(shown(quantity, high));
}

/** "24 to 40 mm by the procedure". */
export function limitWords(entry: NumberEntry, limit: EntryLimit): string | null {
  const say = preparationWords();
  const range = rangeWords(entryQuantities[entry], limit);
  return range === null ? null : limit.against === 'procedure' ? say.limitProcedure(range) : say.limitTrade(range);
}

/** "Flux lot: not entered". */
export function missingWords(missing: PreparationState['missing'][number], arcs: number): string {
  const say = preparationWords();
  const name = entryName(missing, arcs);
  const { entry, reason, value, against } = missing;
  const quantity = entry === 'interpassMeasured' ? 'temperature' : isNumberEntry(entry) ? entryQuantities[entry] : null;
  if (reason !== 'outside' || against === null || quantity === null) return say.lacks(name, reason === 'notDone' ? say.notDone : say.notEntered);
  return say.lacks(name, say.outside(shown(quantity, value), rangeWords(quantity, missing) ?? '', say[against]));
}
