import { wrongValue } from './decoded.js';
import { isRaw, type Raw } from './field-rules.js';

/** The value of a SenML record for its name at its time; null where it has only a sum. */
export type SenmlValue = number | string | boolean | { readonly data: string } | null;

/** A record of RFC 8428 with the base fields applied to it. */
export interface SenmlRecord {
  readonly name: string;
  readonly unit: string | null;
  /** Time in s since 1970, or, where `relative`, in s from now. */
  readonly time: number;
  readonly relative: boolean;
  readonly value: SenmlValue;
  /** Integral of the value over time, in its unit times s. */
  readonly sum: number | null;
}

export type ResolvedPack =
  | { readonly ok: true; readonly records: readonly SenmlRecord[]; readonly unknownFields: number }
  | { readonly ok: false; readonly reason: string };

type Kind = 'number' | 'string' | 'boolean';
/** RFC 8428, section 5, table 2. */
const fieldKinds: ReadonlyMap<string, Kind> = new Map<string, Kind>([
  ['bn', 'string'], ['bt', 'number'], ['bu', 'string'], ['bv', 'number'], ['bs', 'number'], ['bver', 'number'],
  ['n', 'string'], ['u', 'string'], ['v', 'number'], ['vs', 'string'], ['vb', 'boolean'], ['vd', 'string'],
  ['s', 'number'], ['t', 'number'], ['ut', 'number'],
]);

/** RFC 8428, section 4.4: the version of that document, which applies where none is given. */
const version = 10;
/** Section 4.5.3: below this, seconds, a time is relative to now. */
const firstAbsoluteTime = 2 ** 28;
/** Section 4.5.1. */
const nameCharacters = /^[A-Za-z0-9][-A-Za-z0-9:./_]*$/;
/** Section 4.3: base64 with the URL-safe alphabet (padding should be omitted; it is accepted where it is not). */
const base64url = /^[-A-Za-z0-9_]*={0,2}$/;

interface Bases {
  name: string;
  time: number;
  unit: string | null;
  value: number | null;
  sum: number | null;
  version: number | null;
}

/**
 * Applies the base fields of a SenML pack to its records (RFC 8428, sections 4.1 to 4.6). A pack that breaks a MUST of the RFC is rejected as a
 * whole, since nothing then says what its other records mean. Times stay in s as they were sent.
 */
export function resolveSenml(pack: unknown): ResolvedPack {
  if (!Array.isArray(pack)) return { ok: false, reason: wrongValue('the pack', pack, 'a list of SenML records') };
  const bases: Bases = { name: '', time: 0, unit: null, value: null, sum: null, version: null };
  const records: SenmlRecord[] = [];
  let unknownFields = 0;
  for (const [index, entry] of (pack as readonly unknown[]).entries()) {
    const where = `record ${index + 1}`;
    if (!isRaw(entry)) return { ok: false, reason: wrongValue(where, entry, 'a SenML record (a JSON object)') };
    for (const label in entry) {
      const problem = fieldProblem(label, entry[label], where);
      if (problem !== null) return { ok: false, reason: problem };
      if (!fieldKinds.has(label)) unknownFields += 1;
    }
    const problem = takeBases(bases, entry, where, index === 0);
    if (problem !== null) return { ok: false, reason: problem };
    const record = resolveRecord(bases, entry, where);
    if (typeof record === 'string') return { ok: false, reason: record };
    if (record !== null) records.push(record);
  }
  return { ok: true, records, unknownFields };
}

function fieldProblem(label: string, value: unknown, where: string): string | null {
  const kind = fieldKinds.get(label);
  if (kind === undefined) {
    if (!label.endsWith('_')) return null;
    return `${where}: the field ${JSON.stringify(label.slice(0, 64))} must be understood (its name ends in _) and is not (RFC 8428, section 4.4)`;
  }
  const fits = kind === 'number' ? Number.isFinite(value) : typeof value === kind;
  if (!fits) return wrongValue(`${where}: ${label}`, value, `a ${kind}`);
  if (label === 'vd' && !base64url.test(value as string)) return wrongValue(`${where}: vd`, value, 'base64 with the URL-safe alphabet');
  return null;
}

function takeBases(bases: Bases, fields: Raw, where: string, first: boolean): string | null {
  if (typeof fields.bn === 'string') bases.name = fields.bn;
  if (typeof fields.bt === 'number') bases.time = fields.bt;
  if (typeof fields.bu === 'string') bases.unit = fields.bu;
  if (typeof fields.bv === 'number') bases.value = fields.bv;
  if (typeof fields.bs === 'number') bases.sum = fields.bs;
  const given = typeof fields.bver === 'number' ? fields.bver : null;
  if (given !== null && (!Number.isInteger(given) || given < 1 || given > version)) {
    return wrongValue(`${where}: bver`, given, `a version from 1 to ${version}`);
  }
  // All records of a pack have one version (section 4.4), either given in the first record or the default.
  if (first) bases.version = given ?? version;
  else if (given !== null && given !== bases.version) {
    return wrongValue(`${where}: bver`, given, `${bases.version ?? version}, the version of the pack's first record`);
  }
  return null;
}

// Null for a record with base fields alone, as in the example of section 5.1.7.
function resolveRecord(bases: Bases, fields: Raw, where: string): SenmlRecord | null | string {
  const values = ['v', 'vs', 'vb', 'vd'].filter((label) => label in fields);
  if (values.length > 1) return `${where}: got ${values.join(' and ')}; expected: one of v, vs, vb, vd`;
  if (values.length === 0 && !['n', 'u', 's', 't', 'ut'].some((label) => label in fields)) return null;
  const hasSum = 's' in fields || bases.sum !== null;
  // Section 4.5.4: if either the base value or the value is missing, it counts as zero.
  if (values.length === 0 && !hasSum && bases.value === null) return `${where}: has no value; expected: one of v, vs, vb, vd, or a sum s`;
  const name = bases.name + text(fields.n);
  if (!nameCharacters.test(name)) {
    return wrongValue(`${where}: the name`, name, 'letters, digits and - : . / _, beginning with a letter or digit');
  }
  const time = bases.time + number(fields.t);
  return {
    name, unit: typeof fields.u === 'string' ? fields.u : bases.unit, time, relative: time < firstAbsoluteTime,
    value: resolveValue(bases, fields, values[0]), sum: hasSum ? (bases.sum ?? 0) + number(fields.s) : null,
  };
}

function resolveValue(bases: Bases, fields: Raw, label: string | undefined): SenmlValue {
  if (label === 'vs') return text(fields.vs);
  if (label === 'vb') return fields.vb === true;
  if (label === 'vd') return { data: text(fields.vd) };
  return label === undefined && bases.value === null ? null : (bases.value ?? 0) + number(fields.v);
}

function text(value: unknown): string {
  return typeof value === 'string' ? value : '';
}

function number(value: unknown): number {
  return typeof value === 'number' ? value : 0;
}
