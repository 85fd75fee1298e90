import { addSample, type ElectricSums } from '../rows/electric-sums.js';
import { valueAt, type Values } from '../items/item.js';
import { microseconds, type ItemFacts, type PlacedItem } from '../items/device-clock.js';
import { spreadNames } from '../quantities.js';
import { rowLength } from '../rows/row.js';
import { addToDensity, densityCell, type DensityCells } from '../rows/density.js';
import { addRawVoltage, noRawVoltage, type RawVoltage } from '../rows/raw-voltage.js';
import { addItemValues, addValue, cloneSpreads, noSpreads, type SpreadSum } from '../rows/spread-sum.js';
import type { WeldSettings } from '../weld-settings.js';

/** A shorter loss of current does not count (a zero crossing, or a pulse's low level), µs. */
const extinctionAtLeast = 10_000;
const shortCircuitAtLeast = 2_000;
/** The longest sample interval that can show the event, ms. */
const extinctionInterval = 5;
const shortCircuitInterval = 1;
const densityInterval = 5;
/** The longest sample interval for which the method counts as instantaneous, ms. */
const instantaneousInterval = 1;

/** The samples of blocks within one row, summed. Integrals over time as in `arcColumns`. */
export interface BlockPart extends ElectricSums {
  readonly index: number;
  readonly epoch: number;
  readonly from: number;
  to: number;
  /** Time covered, s. */
  time: number;
  samples: number;
  spreads: SpreadSum[];
  /** The voltage as it was sent; null where nothing was corrected for the cable. */
  raw: RawVoltage | null;
  /** How long the samples were in which cell; null where they are too far apart to tell. */
  density: DensityCells | null;
  temperature: number;
  /** Whether samples are further apart than the instantaneous method allows. */
  slow: boolean;
  showsExtinctions: boolean;
  showsShortCircuits: boolean;
  /** The events that ended here: when each began, µs. */
  extinctions: number[];
  shortCircuits: number[];
  facts: ItemFacts;
  /** The part of the same row that belongs to the assignment before. */
  readonly before: BlockPart | null;
}

export function clonePart(part: BlockPart): BlockPart {
  return {
    ...part, spreads: cloneSpreads(part.spreads), raw: part.raw === null ? null : { ...part.raw }, density: part.density === null ? null : new Map(part.density),
    extinctions: part.extinctions.slice(), shortCircuits: part.shortCircuits.slice(),
  };
}

/** Losses of current and short circuits that have begun and not ended: when each began, µs, or null. */
export interface EventWatch {
  lowCurrentSince: number | null;
  lowVoltageSince: number | null;
}

/**
 * Spreads the samples of a block over row parts. `part` is the arc's open part, which continues if the block joins it; complete parts are passed to
 * `close`. Samples that begin at or after `until` are cut off. Returns the part that is still open.
 */
export function spreadBlock(
  placed: PlacedItem,
  until: number,
  epoch: number,
  part: BlockPart | null,
  watch: EventWatch,
  settings: WeldSettings,
  close: (part: BlockPart) => void,
): BlockPart | null {
  const { item, start } = placed;
  const intervalMs = item.interval ?? 0;
  const interval = microseconds(intervalMs);
  const end = Math.min(placed.end, until);
  let open = part;
  for (let k = 0; k < item.count; k += 1) {
    if (open !== null && open.epoch === epoch) k = sumStretch(open, placed, k, interval, end, watch, settings);
    const from = start + k * interval;
    if (from >= end || k >= item.count) break;
    const to = k === item.count - 1 ? end : Math.min(start + (k + 1) * interval, end);
    const current = valueAt(item.current, k);
    const voltage = valueAt(item.voltage, k);
    const ended = watchEvents(watch, current, voltage, from, settings);
    let begin = from;
    let first = true;
    while (begin < to || first) {
      const index = Math.floor(begin / rowLength);
      if (open !== null && open.index !== index) {
        close(open);
        open = null;
      }
      if (open === null || open.epoch !== epoch) open = startPart(index, epoch, begin, placed.facts, open);
      const stop = Math.min(to, (index + 1) * rowLength);
      // A whole sample weighs exactly its interval, whatever rounding does to the times of its ends.
      const dt = (first && stop === to && to - from > interval - 1 ? interval : stop - begin) / 1e6;
      addItemSample(open, placed, k, current, voltage, dt);
      open.to = stop;
      if (first) {
        open.samples += 1;
        notice(open, placed, intervalMs);
        noteEvents(open, ended);
        first = false;
      }
      begin = stop;
    }
  }
  return open;
}

/**
 * Adds the samples from the `k`-th on that lie entirely in the open part's row, one after the other and in the same order of addition as any other:
 * most samples of a fast block are added here. Returns the number of the first sample that does not fit.
 */
function sumStretch(part: BlockPart, placed: PlacedItem, k: number, interval: number, end: number, watch: EventWatch, settings: WeldSettings): number {
  const { item, start } = placed;
  const rowEnd = (part.index + 1) * rowLength;
  const currents = typeof item.current === 'number' ? null : item.current;
  const voltages = typeof item.voltage === 'number' ? null : item.voltage;
  const { arcOffCurrent, shortCircuitVoltage } = settings;
  let current = valueAt(item.current, k);
  let voltage = valueAt(item.voltage, k);
  let at = k;
  // The sums are local variables rather than fields of the part: at a thousand samples a second, field access would take most of the time.
  const sent = sentSpreads(part, item);
  let { time, to, current: charge, voltage: tension, energy, currentSquared, voltageSquared, minCurrent, maxCurrent, minVoltage, maxVoltage, positiveTime } = part;
  for (; at < item.count; at += 1) {
    const from = start + at * interval;
    const stop = at === item.count - 1 ? end : Math.min(start + (at + 1) * interval, end);
    if (from >= end || stop > rowEnd || stop <= from) break;
    if (currents !== null) current = currents[at] ?? Number.NaN;
    if (voltages !== null) voltage = voltages[at] ?? Number.NaN;
    if (watch.lowCurrentSince !== null || watch.lowVoltageSince !== null || Math.abs(current) < arcOffCurrent || Math.abs(voltage) < shortCircuitVoltage) {
      noteEvents(part, watchEvents(watch, current, voltage, from, settings));
    }
    const dt = (stop - from > interval - 1 ? interval : stop - from) / 1e6;
    time += dt;
    charge += current * dt;
    tension += voltage * dt;
    energy += voltage * current * dt;
    currentSquared += current * current * dt;
    voltageSquared += voltage * voltage * dt;
    if (current > 0) positiveTime += dt;
    if (current < minCurrent) minCurrent = current;
    if (current > maxCurrent) maxCurrent = current;
    if (voltage < minVoltage) minVoltage = voltage;
    if (voltage > maxVoltage) maxVoltage = voltage;
    for (const { spread, values } of sent) addValue(spread, valueAt(values, at), dt);
    to = stop;
  }
  if (at === k) return k;
  Object.assign(part, { time, to, current: charge, voltage: tension, energy, currentSquared, voltageSquared, minCurrent, maxCurrent, minVoltage, maxVoltage, positiveTime });
  part.samples += at - k;
  if (item.plateTemperature !== null) part.temperature = valueAt(item.plateTemperature, at - 1);
  if (placed.raw !== null || showsDensity(item)) sumBeside(part, placed, k, at, interval, end);
  notice(part, placed, item.interval ?? 0);
  return at;
}

/** Adds what only some samples have, from the `k`-th to before the one numbered `until`: the voltage as it was sent, and the time in each cell of the density. */
function sumBeside(part: BlockPart, { item, start, raw }: PlacedItem, k: number, until: number, interval: number, end: number): void {
  const cells = showsDensity(item) ? (part.density ??= new Map<number, number>()) : null;
  const sent = raw === null ? null : (part.raw ??= noRawVoltage());
  // Neighbouring samples are often in the same cell.
  let [cell, seconds] = [-1, 0];
  for (let at = k; at < until; at += 1) {
    const stop = at === item.count - 1 ? end : Math.min(start + (at + 1) * interval, end);
    const from = start + at * interval;
    const dt = (stop - from > interval - 1 ? interval : stop - from) / 1e6;
    if (sent !== null && raw !== null) addRawVoltage(sent, valueAt(raw, at), dt);
    if (cells === null) continue;
    const own = densityCell(valueAt(item.voltage, at), valueAt(item.current, at));
    if (own !== cell) {
      if (seconds > 0) addToDensity(cells, cell, seconds);
      [cell, seconds] = [own, 0];
    }
    seconds += dt;
  }
  if (cells !== null && seconds > 0) addToDensity(cells, cell, seconds);
}

function showsDensity({ interval }: PlacedItem['item']): boolean {
  return interval !== null && interval <= densityInterval;
}

/** Written out field by field: an object of so many fields that begins with another's would be a hash table to the engine, and reading it slow. */
function startPart(index: number, epoch: number, from: number, facts: ItemFacts, before: BlockPart | null): BlockPart {
  return {
    current: 0, voltage: 0, energy: 0, currentSquared: 0, voltageSquared: 0,
    minCurrent: Infinity, maxCurrent: -Infinity, minVoltage: Infinity, maxVoltage: -Infinity, positiveTime: 0,
    index, epoch, from, to: from, time: 0, samples: 0,
    spreads: noSpreads(), raw: null, density: null, temperature: Number.NaN,
    slow: false, showsExtinctions: true, showsShortCircuits: true, extinctions: [], shortCircuits: [], facts, before,
  };
}

function addItemSample(part: BlockPart, { item, raw }: PlacedItem, k: number, current: number, voltage: number, dt: number): void {
  part.time += dt;
  addSample(part, current, voltage, dt);
  addItemValues(part.spreads, item, k, dt);
  if (raw !== null) addRawVoltage((part.raw ??= noRawVoltage()), valueAt(raw, k), dt);
  if (showsDensity(item)) addToDensity((part.density ??= new Map<number, number>()), densityCell(voltage, current), dt);
  if (item.plateTemperature !== null) part.temperature = valueAt(item.plateTemperature, k);
}

/** The values that an item sends of the quantities that are summed, each with its sum. */
function sentSpreads({ spreads }: BlockPart, item: PlacedItem['item']): readonly { readonly spread: SpreadSum; readonly values: Values }[] {
  const sent: { readonly spread: SpreadSum; readonly values: Values }[] = [];
  for (let k = 0; k < spreadNames.length; k += 1) {
    const name = spreadNames[k];
    const spread = spreads[k];
    const values = name === undefined ? null : item[name];
    if (values !== null && spread !== undefined) sent.push({ spread, values });
  }
  return sent;
}

function notice(part: BlockPart, placed: PlacedItem, intervalMs: number): void {
  if (intervalMs > instantaneousInterval) part.slow = true;
  if (intervalMs > extinctionInterval) part.showsExtinctions = false;
  if (intervalMs > shortCircuitInterval) part.showsShortCircuits = false;
  if (part.facts !== placed.facts) part.facts = joinFacts(part.facts, placed.facts);
}

/** The newer item's place, with the flags of both. */
export function joinFacts(older: ItemFacts, newer: ItemFacts): ItemFacts {
  if (older.steppedAt === null && !older.byArrival && older.identity === newer.identity) return newer;
  const rank = { full: 0, time: 1, none: 2 };
  return {
    ...newer, steppedAt: newer.steppedAt ?? older.steppedAt, byArrival: older.byArrival || newer.byArrival,
    identity: rank[older.identity] > rank[newer.identity] ? older.identity : newer.identity,
  };
}

function watchEvents(watch: EventWatch, current: number, voltage: number, at: number, settings: WeldSettings): EndedEvents {
  let extinction: number | null = null;
  let shortCircuit: number | null = null;
  if (Math.abs(current) < settings.arcOffCurrent) watch.lowCurrentSince ??= at;
  else if (watch.lowCurrentSince !== null) {
    if (at - watch.lowCurrentSince >= extinctionAtLeast - 0.5) extinction = watch.lowCurrentSince;
    watch.lowCurrentSince = null;
  }
  if (Math.abs(voltage) < settings.shortCircuitVoltage) watch.lowVoltageSince ??= at;
  else if (watch.lowVoltageSince !== null) {
    if (at - watch.lowVoltageSince >= shortCircuitAtLeast - 0.5) shortCircuit = watch.lowVoltageSince;
    watch.lowVoltageSince = null;
  }
  return extinction === null && shortCircuit === null ? noEvents : { extinction, shortCircuit };
}

interface EndedEvents {
  readonly extinction: number | null;
  readonly shortCircuit: number | null;
}

function noteEvents(part: BlockPart, { extinction, shortCircuit }: EndedEvents): void {
  if (extinction !== null) part.extinctions.push(extinction);
  if (shortCircuit !== null) part.shortCircuits.push(shortCircuit);
}

const noEvents = { extinction: null, shortCircuit: null } as const;
