import type { Item } from '../items/item.js';
import { optionalNames, quantities, sentNames, type OptionalName, type SentName } from '../quantities.js';
import { recordOf } from '../rows/record-of.js';
import { refusedMessage, wrongValue, type DecodedItem, type DecodedMessage } from './decoded.js';
import { isTakenTime, timeTaken } from './device-time.js';
import { mostArcs, mostItems } from './item-limits.js';
import { parsePayload } from './parse-json.js';
import { headOfPayload, headOfValue } from './printable.js';
import { resolveSenml, type SenmlRecord } from './senml-resolve.js';

/** The most records in one pack: ten for each reading that a message may contain. */
const mostRecords = 10_000;

/** What a pack says about one arc at one time (whole µs since 1970). */
interface Instant {
  readonly arc: number;
  readonly time: number;
  readonly relative: boolean;
  readonly values: Map<SentName, number>;
  readonly records: SenmlRecord[];
  problem: string | null;
}

/**
 * Decodes a message of the kind `senml` (RFC 8428, JSON). Records of one arc and one time make one reading; a name without `:arcN:` belongs to arc 1.
 * Speeds, travel and temperature also hold for the later readings of the pack; travel speed, travel and plate temperature without an arc in their
 * name belong to the carriage, and so to all its arcs. They make no reading by themselves. A bad record causes the reading of its arc and time to be
 * refused.
 *
 * Times relative to now: if all readings of the pack are of one instant, they get no time (`time: null`, so the arrival counts), since nothing would
 * identify a repetition. If they are of several instants, their spacing is kept and `arrived` (whole µs since 1970) counts as now; repetitions are
 * then counted again too. Never throws.
 */
export function decodeSenml(payload: Uint8Array, arrived: number): DecodedMessage {
  const parsed = parsePayload(payload);
  if (!parsed.ok) return refusedMessage(parsed.reason, parsed.head);
  const refuse = (reason: string): DecodedMessage => refusedMessage(reason, headOfPayload(payload));
  if (Array.isArray(parsed.value) && (parsed.value.length === 0 || parsed.value.length > mostRecords)) {
    return refuse(`the pack has ${parsed.value.length} records; expected: 1 to ${mostRecords}`);
  }
  const pack = resolveSenml(parsed.value);
  if (!pack.ok) return refuse(pack.reason);
  const { instants, unknownRecords } = groupRecords(pack.records, arrived);
  const unknownFields = pack.unknownFields + unknownRecords;
  const readings = instants.filter(({ values, problem }) => problem !== null || values.has('current') || values.has('voltage'));
  if (readings.length === 0) {
    const reason = 'the pack has neither current nor voltage; expected: records whose names end in current (A) and voltage (V)';
    return { ...refuse(reason), unknownFields };
  }
  if (readings.length > mostItems) return refuse(`the pack has ${readings.length} readings; expected: at most ${mostItems}`);
  return { items: readItems(instants), unknownFields };
}

function groupRecords(records: readonly SenmlRecord[], arrived: number): { instants: Instant[]; unknownRecords: number } {
  const groups = new Map<string, Instant>();
  let unknownRecords = 0;
  for (const record of records) {
    const found = readQuantity(record);
    if (found === null) {
      unknownRecords += 1;
      continue;
    }
    const time = Math.round(record.time * 1e6) + (record.relative ? arrived : 0);
    // Arc 0 means the carriage until its values are given to its arcs.
    const arc = found.arc ?? (carriageQuantities.has(found.quantity) && typeof found.value === 'number' ? 0 : 1);
    const key = `${arc} ${time}`;
    const group: Instant = groups.get(key) ?? { arc, time, relative: record.relative, values: new Map(), records: [], problem: null };
    groups.set(key, group);
    group.records.push(record);
    if (typeof found.value === 'string') group.problem ??= found.value;
    else if (group.values.has(found.quantity)) group.problem ??= `${record.name}: given twice for one time; expected: one value`;
    else group.values.set(found.quantity, found.value);
    if (!isTakenTime(time)) group.problem ??= `${record.name}: time: got ${record.time} s; expected: ${timeTaken}`;
  }
  const instants = [...groups.values()].sort((a, b) => a.time - b.time || a.arc - b.arc);
  return { instants, unknownRecords };
}

const carriageQuantities: ReadonlySet<SentName> = new Set(sentNames.filter((name) => quantities[name].of === 'carriage'));

function readItems(instants: readonly Instant[]): DecodedItem[] {
  const wholeReadings = instants.filter(({ values, problem }) => problem === null && values.has('current') && values.has('voltage'));
  const oneInstant = new Set(wholeReadings.map(({ time }) => time)).size === 1;
  // The newest value of each quantity by arc, those of the carriage under 0; instants are in order, and at one instant the carriage comes first.
  const standing = new Map<string, number>();
  const items: DecodedItem[] = [];
  for (const instant of instants) {
    const { arc, values } = instant;
    const problem = instant.problem ?? missingHalf(instant);
    if (problem !== null) {
      items.push({ kind: 'refused', reason: problem, boot: null, seq: null, head: headOfValue(instant.records) });
      continue;
    }
    for (const [quantity, value] of values) standing.set(`${arc} ${quantity}`, value);
    const newest = (quantity: OptionalName): number | null => standing.get(`${arc} ${quantity}`) ?? standing.get(`0 ${quantity}`) ?? null;
    const current = values.get('current');
    const voltage = values.get('voltage');
    if (current === undefined || voltage === undefined) continue;
    const item: Item = {
      boot: null, seq: null, time: instant.relative && oneInstant ? null : instant.time, arc, interval: null, count: 1, current, voltage,
      ...recordOf(optionalNames, newest),
    };
    items.push({ kind: 'item', item });
  }
  return items;
}

function missingHalf({ arc, values, records }: Instant): string | null {
  const current = values.has('current');
  if (current === values.has('voltage')) return null;
  const [there, missing, unit] = current ? ['current', 'voltage', 'V'] : ['voltage', 'current', 'A'];
  return `${missing}: missing for arc ${arc} at the time of ${records[0]?.name ?? there}; expected: a record of ${missing} (${unit}) at the same time`;
}

/** One record that Seamwarden knows, in the units of the API. */
interface SenmlQuantity {
  readonly quantity: SentName;
  /** The arc that its name gives, or null where it gives none. */
  readonly arc: number | null;
  /** The value, or why it is refused. */
  readonly value: number | string;
}

// No letter may come right before the quantity: `overcurrent` is something else.
const quantityName = new RegExp(`(?:^|[^A-Za-z])(${sentNames.join('|')})$`);
const arcName = /(?:^|:)arc(\d{1,4}):$/;

/** Reads name, unit and value of a resolved record; null where the name is not one of the quantities. */
function readQuantity(record: SenmlRecord): SenmlQuantity | null {
  const found = quantityName.exec(record.name)?.[1] as SentName | undefined;
  if (found === undefined) return null;
  const named = arcName.exec(record.name.slice(0, -found.length))?.[1];
  const arc = named === undefined ? null : Number(named);
  if (arc !== null && (arc < 1 || arc > mostArcs)) {
    return { quantity: found, arc, value: wrongValue(`${record.name}: arc`, arc, `arc1 to arc${mostArcs}`) };
  }
  return { quantity: found, arc, value: readValue(record, found) };
}

function readValue(record: SenmlRecord, quantity: SentName): number | string {
  const { low, high, senml: { unit, factor } } = quantities[quantity].sent;
  if (record.unit === null) return `${record.name}: unit missing; expected: ${JSON.stringify(unit)}`;
  if (record.unit !== unit) return wrongValue(`${record.name}: unit`, record.unit, JSON.stringify(unit));
  if (typeof record.value !== 'number') return wrongValue(`${record.name}: value`, record.value, 'a number (v)');
  const value = record.value * factor;
  if (value >= low && value <= high) return value;
  return wrongValue(record.name, record.value, `${low / factor} to ${high / factor} (${unit})`);
}
