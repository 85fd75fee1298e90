import { valueAt } from '../../shared/weld/items/item.js';
import type { ArcSensors, Sensors } from '../../shared/weld/procedure/sensors.js';
import { declaredFor, voltageAtArc } from './plain-sensors.js';
import type { Segment, TimedItem } from './plain-types.js';

const rowLength = 100_000;
/** Blocks that begin within this (or one interval) of the end of the block before are joined to it, µs. */
const joinWithin = 2_000;

export interface PlacedItem extends TimedItem {
  /** The time from which its first value applies, after blocks are joined. */
  readonly placed: number;
}

const spanOf = (item: TimedItem['item']): number => item.count * (item.interval ?? 0) * 1000;

/** Joins each block to the block before it if the rules say so. All items are of one arc, in order. */
export function placeItems(timed: readonly TimedItem[]): PlacedItem[] {
  const placed: PlacedItem[] = [];
  for (const entry of timed) {
    const before = placed.at(-1);
    let start = entry.start;
    if (before !== undefined && !entry.broken && entry.item.interval !== null && before.item.interval !== null && before.item.boot === entry.item.boot) {
      const end = before.placed + spanOf(before.item);
      const within = Math.max(joinWithin, entry.item.interval * 1000, before.item.interval * 1000);
      if (Math.abs(start - end) <= within) start = end;
    }
    placed.push({ ...entry, placed: start });
  }
  return placed;
}

function valuesOf({ current, voltage, wireFeedSpeed }: TimedItem['item'], k: number, own: ArcSensors | undefined): Pick<Segment, 'current' | 'voltage' | 'rawVoltage' | 'wireFeedSpeed'> {
  const amperes = valueAt(current, k);
  return { current: amperes, ...voltageAtArc(valueAt(voltage, k), amperes, own), wireFeedSpeed: wireFeedSpeed === null ? null : valueAt(wireFeedSpeed, k) };
}

/** How long each value of one arc applies, with the voltage at the arc; block samples are divided at the borders of rows. */
export function holdValues(placed: readonly PlacedItem[], maxHold: number, sensors: Sensors | null = null): Segment[] {
  const segments: Segment[] = [];
  placed.forEach((entry, i) => {
    const { item } = entry;
    const own = declaredFor(sensors, item.arc);
    const next = placed[i + 1]?.placed ?? null;
    const common = { arc: item.arc, index: entry.index, broken: entry.broken };
    if (item.interval === null) {
      const end = next === null ? entry.placed : Math.min(next, entry.placed + maxHold);
      const row = Math.floor(entry.placed / rowLength);
      const values = valuesOf(item, 0, own);
      segments.push({ ...common, ...values, start: entry.placed, end, interval: null, row, begins: true });
      return;
    }
    const interval = item.interval * 1000;
    for (let k = 0; k < item.count; k += 1) {
      const start = entry.placed + k * interval;
      if (next !== null && start >= next) break;
      const end = Math.min(entry.placed + (k + 1) * interval, next ?? Number.POSITIVE_INFINITY);
      const values = valuesOf(item, k, own);
      for (let from = start; from < end; ) {
        const row = Math.floor(from / rowLength);
        const to = Math.min(end, (row + 1) * rowLength);
        segments.push({ ...common, ...values, start: from, end: to, interval, row, begins: from === start, broken: entry.broken && k === 0 && from === start });
        from = to;
      }
    }
  });
  return segments;
}
