import type { AssignedArc, Assignment, FluxDrying, Preparation, Purpose } from '../procedure/assignment.js';
import { checkConfirmed, checkMaterials } from './check-entries.js';
import { missingValue, wrongValue } from './decoded.js';
import { above, between, failure, isGiven, isRaw, oneOf, readFields, text, time, whole, type FieldFailure, type Kept, type Rule } from './field-rules.js';
import { mostArcs } from './item-limits.js';

export type CheckedAssignment = { readonly ok: true; readonly assignment: Assignment } | FieldFailure;

type Writable<T> = { -readonly [K in keyof T]: T[K] };

const purposes: readonly Purpose[] = ['production', 'testPiece', 'repair', 'tack'];

// The limits on lengths, thickness and diameters are wide enough for any seam; common practice, no source.
const rules: Readonly<Record<Exclude<keyof Assignment, 'arcs' | 'preparation' | 'materials'>, Rule>> = {
  seam: text(),
  run: whole(1, 9999),
  time: time(),
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
  diameter: between(1, 1e6, 'mm'),
  turnIsRun: oneOf([true, false]),
  lastRun: whole(1, 9999),
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
  // The heaviest drums hold about a tonne; common practice, no source.
  spoolMass: above(0, 5000, 'kg'),
};

// The widest range in which any flux is dried or plate preheated, and a week in the oven; common practice, no source.
const preparationRules: Readonly<Record<Exclude<keyof Preparation, 'flux' | 'confirmed'>, Rule>> = {
  surfaceCleaned: oneOf([true, false]),
  polarityChecked: oneOf([true, false]),
  trackParallel: oneOf([true, false]),
  preheatMeasured: between(-100, 1500, '°C'),
  by: text(),
  at: time(),
};

const fluxRules: Readonly<Record<keyof FluxDrying, Rule>> = {
  dried: oneOf([true, false]),
  temperature: between(0, 1000, '°C'),
  hours: between(0, 168, 'h'),
};

/**
 * Checks an assignment that arrives over MQTT or HTTP. Optional fields that are null or empty text count as absent, and unknown ones are ignored;
 * times become whole µs since 1970. The reason for a refusal names the field, what it got and what is accepted.
 */
export function checkAssignment(value: unknown): CheckedAssignment {
  if (!isRaw(value)) return { ok: false, field: '', reason: wrongValue('the assignment', value, 'a JSON object with seam and run') };
  const checked = readFields<Assignment>(value, rules, ['seam', 'run'], '');
  if (!checked.ok) return checked;
  const assignment = checked.kept;
  for (const [name, check] of Object.entries({ arcs: checkArcs, preparation: checkPreparation, materials: checkMaterials })) {
    if (!isGiven(value[name])) continue;
    const part = check(value[name]);
    if (!part.ok) return part;
    Object.assign(assignment, { [name]: part.kept });
  }
  if (assignment.motion === 'work' && assignment.diameter === undefined) {
    return failure('diameter', `${missingValue('diameter', rules.diameter.taken)}; it is required where motion is "work"`);
  }
  return checkTurns(assignment) ?? { ok: true, assignment };
}

/** A turn can end a run only where one is known, and the last run is not before the first. */
function checkTurns({ turnIsRun, lastRun, motion, run }: Assignment): FieldFailure | null {
  if (turnIsRun === true && motion !== 'work') {
    return failure('turnIsRun', `${wrongValue('turnIsRun', true, 'true only where motion is "work" and diameter is given')}; motion is ${motion === undefined ? 'missing' : `"${motion}"`}`);
  }
  if (lastRun === undefined) return null;
  if (turnIsRun !== true) return failure('lastRun', wrongValue('lastRun', lastRun, 'a number only where turnIsRun is true'));
  return lastRun < run ? failure('lastRun', wrongValue('lastRun', lastRun, `at least ${run}, the number of the run`)) : null;
}

function checkArcs(value: unknown): Kept<AssignedArc[]> {
  const taken = `a list of up to ${mostArcs} arcs`;
  if (!Array.isArray(value)) return failure('arcs', wrongValue('arcs', value, taken));
  if (value.length > mostArcs) return failure('arcs', `arcs: got a list of ${value.length}; expected: ${taken}`);
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

function checkPreparation(value: unknown): Kept<Preparation> {
  if (!isRaw(value)) return failure('preparation', wrongValue('preparation', value, 'a JSON object'));
  const checked = readFields<Preparation>(value, preparationRules, [], 'preparation.');
  if (!checked.ok) return checked;
  const preparation: Writable<Preparation> = checked.kept;
  if (isGiven(value.confirmed)) {
    const confirmed = checkConfirmed(value.confirmed);
    if (!confirmed.ok) return confirmed;
    preparation.confirmed = confirmed.kept;
  }
  if (!isGiven(value.flux)) return { ok: true, kept: preparation };
  if (!isRaw(value.flux)) return failure('preparation.flux', wrongValue('preparation.flux', value.flux, 'a JSON object'));
  const flux = readFields<FluxDrying>(value.flux, fluxRules, [], 'preparation.flux.');
  return flux.ok ? { ok: true, kept: { ...preparation, flux: flux.kept } } : flux;
}
