import type { AssignedArc, Assignment, Purpose } from '../assignment.js';
import { missingValue, wrongValue } from './decoded.js';
import { readDeviceTime, timeTaken } from './device-time.js';
import { mostArcs } from './item-limits.js';
import { isPrintable } from './printable.js';

export type CheckedAssignment =
  | { readonly ok: true; readonly assignment: Assignment }
  | { readonly ok: false; readonly field: string; readonly reason: string };

type Raw = Readonly<Record<string, unknown>>;
type Writable<T> = { -readonly [K in keyof T]: T[K] };
/** Gives the value to keep, or undefined for what is not taken. */
interface Rule {
  readonly taken: string;
  readonly read: (value: unknown) => unknown;
}

const longestText = 128;

function text(): Rule {
  return {
    taken: `text of 1 to ${longestText} printable characters`,
    read: (value) => (typeof value === 'string' && isPrintable(value, longestText) ? value : undefined),
  };
}

function between(low: number, high: number, unit: string): Rule {
  return {
    taken: `a number from ${low} to ${high} (${unit})`,
    read: (value) => (typeof value === 'number' && value >= low && value <= high ? value + 0 : undefined),
  };
}

function above(low: number, high: number, unit: string): Rule {
  return {
    taken: `a number above ${low} and up to ${high} (${unit})`,
    read: (value) => (typeof value === 'number' && value > low && value <= high ? value : undefined),
  };
}

function whole(low: number, high: number): Rule {
  return {
    taken: `an integer from ${low} to ${high}`,
    read: (value) => (typeof value === 'number' && Number.isInteger(value) && value >= low && value <= high ? value : undefined),
  };
}

function oneOf(choices: readonly unknown[]): Rule {
  return {
    taken: choices.map((choice) => JSON.stringify(choice)).join(', '),
    read: (value) => (choices.includes(value) ? value : undefined),
  };
}

const purposes: readonly Purpose[] = ['production', 'testPiece', 'repair', 'tack'];

// The limits of lengths, thickness and diameters are wide enough for any seam; common practice, no source.
const rules: Readonly<Record<Exclude<keyof Assignment, 'arcs'>, Rule>> = {
  seam: text(),
  run: whole(1, 9999),
  time: { taken: timeTaken, read: (value) => numberOrNothing(readDeviceTime(value)) },
  procedure: text(),
  purpose: oneOf(purposes),
  seamLength: above(0, 1e7, 'mm'),
  thickness: above(0, 1000, 'mm'),
  side: whole(1, 9),
  datum: text(),
  startOffset: between(-1e7, 1e7, 'mm'),
  direction: oneOf([1, -1]),
  runOn: between(0, 1e5, 'mm'),
  runOff: between(0, 1e5, 'mm'),
  motion: oneOf(['carriage', 'work']),
  diameter: above(0, 1e6, 'mm'),
  preheat: between(-100, 1500, '°C'),
  operator: text(),
  fluxLot: text(),
  simulated: oneOf([true, false]),
};

const arcRules: Readonly<Record<keyof AssignedArc, Rule>> = {
  arc: whole(1, mostArcs),
  wireDiameter: above(0, 20, 'mm'),
  electrodeExtension: above(0, 1000, 'mm'),
  wireLot: text(),
};

/**
 * Checks an assignment as it comes over MQTT and HTTP. Optional fields that are null or empty text count as absent,
 * unknown ones are ignored; times become whole µs since 1970. The reason names the field, what it got and what is taken.
 */
export function checkAssignment(value: unknown): CheckedAssignment {
  if (!isRaw(value)) return { ok: false, field: '', reason: wrongValue('the assignment', value, 'a JSON object with seam and run') };
  const checked = readFields<Assignment>(value, rules, ['seam', 'run'], '');
  if (!checked.ok) return checked;
  const assignment: Writable<Assignment> = checked.kept;
  if (isGiven(value.arcs)) {
    const arcs = checkArcs(value.arcs);
    if (!arcs.ok) return arcs;
    assignment.arcs = arcs.kept;
  }
  if (assignment.motion === 'work' && assignment.diameter === undefined) {
    return failure('diameter', `${missingValue('diameter', rules.diameter.taken)}; it is required where motion is "work"`);
  }
  return { ok: true, assignment };
}

type Kept<T> = { readonly ok: true; readonly kept: T } | { readonly ok: false; readonly field: string; readonly reason: string };

function checkArcs(value: unknown): Kept<AssignedArc[]> {
  const taken = `a list of up to ${mostArcs} arcs`;
  if (!Array.isArray(value)) return failure('arcs', wrongValue('arcs', value, taken));
  if (value.length > mostArcs) return failure('arcs', `arcs: got a list of ${value.length}; taken: ${taken}`);
  const kept: AssignedArc[] = [];
  for (const [index, entry] of (value as readonly unknown[]).entries()) {
    const where = `arcs[${index}]`;
    if (!isRaw(entry)) return failure(where, wrongValue(where, entry, 'a JSON object with arc'));
    const arc = readFields<AssignedArc>(entry, arcRules, ['arc'], `${where}.`);
    if (!arc.ok) return arc;
    if (kept.some((other) => other.arc === arc.kept.arc)) {
      return failure(`${where}.arc`, wrongValue(`${where}.arc`, arc.kept.arc, 'each arc once'));
    }
    kept.push(arc.kept);
  }
  return { ok: true, kept };
}

function readFields<T extends object>(raw: Raw, fields: Readonly<Record<string, Rule>>, required: readonly string[], where: string): Kept<T> {
  const kept: Record<string, unknown> = {};
  for (const [name, rule] of Object.entries(fields)) {
    const given = raw[name];
    const field = where + name;
    if (!isGiven(given)) {
      if (required.includes(name)) return failure(field, missingValue(field, rule.taken));
      continue;
    }
    if (given === '' && !required.includes(name)) continue;
    const value = rule.read(given);
    if (value === undefined) return failure(field, wrongValue(field, given, rule.taken));
    kept[name] = value;
  }
  // Every value in it has passed the rule of its field, and the rules are written for the fields of T.
  return { ok: true, kept: kept as T };
}

function failure(field: string, reason: string): { readonly ok: false; readonly field: string; readonly reason: string } {
  return { ok: false, field, reason };
}

function isRaw(value: unknown): value is Raw {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function isGiven(value: unknown): boolean {
  return value !== undefined && value !== null;
}

function numberOrNothing(value: number): number | undefined {
  return Number.isNaN(value) ? undefined : value;
}
