import { materialKinds, preparationEntries, type ConfirmedEntry, type MaterialChange } from '../procedure/assignment.js';
import { wrongValue } from './decoded.js';
import { above, between, failure, isRaw, oneOf, readFields, text, time, whole, type Kept, type Rule } from './field-rules.js';
import { mostArcs } from './item-limits.js';

/** More than all entries of all arcs together; common practice, no source. */
const mostConfirmed = 64;
/** The most changes of wire and flux in one run; common practice, no source. */
export const mostMaterials = 200;

const confirmedRules: Readonly<Record<keyof ConfirmedEntry, Rule>> = {
  entry: oneOf(preparationEntries),
  arc: whole(1, mostArcs),
  value: {
    taken: 'true, false, a number or text',
    read: (value) => (typeof value === 'boolean' || (typeof value === 'number' && Number.isFinite(value)) ? value : text().read(value)),
  },
  by: text(),
  at: time(),
};

// Masses are limited as those of spools, and travel as a carriage counts it; a drum of thin wire holds less than 100 km.
const materialRules: Readonly<Record<keyof MaterialChange, Rule>> = {
  kind: oneOf(materialKinds),
  arc: whole(1, mostArcs),
  lot: text(),
  mass: above(0, 5000, 'kg'),
  travelled: between(-1e7, 1e7, 'mm'),
  melted: between(0, 1e5, 'm'),
  by: text(),
  at: time(),
};

/** Checks the preparation entries that somebody at the carriage confirmed. */
export function checkConfirmed(value: unknown): Kept<ConfirmedEntry[]> {
  return checkList<ConfirmedEntry>(value, 'preparation.confirmed', mostConfirmed, confirmedRules, ['entry', 'value', 'by', 'at'], { arc: null });
}

export function checkMaterials(value: unknown): Kept<MaterialChange[]> {
  return checkList<MaterialChange>(value, 'materials', mostMaterials, materialRules, ['kind', 'by', 'at'], { arc: null, lot: null, mass: null, travelled: null, melted: null });
}

function checkList<T extends object>(value: unknown, name: string, most: number, rules: Readonly<Record<string, Rule>>, required: readonly string[], absent: Partial<T>): Kept<T[]> {
  const taken = `a list of up to ${most}`;
  if (!Array.isArray(value)) return failure(name, wrongValue(name, value, taken));
  if (value.length > most) return failure(name, `${name}: got a list of ${value.length}; expected: ${taken}`);
  const kept: T[] = [];
  for (const [index, entry] of (value as readonly unknown[]).entries()) {
    const where = `${name}[${index}]`;
    if (!isRaw(entry)) return failure(where, wrongValue(where, entry, 'a JSON object'));
    const checked = readFields<T>(entry, rules, required, `${where}.`);
    if (!checked.ok) return checked;
    kept.push({ ...absent, ...checked.kept });
  }
  return { ok: true, kept };
}
