import type { Values } from './item.js';
import { hasSequence, type OrderedItem } from './order.js';

/** The interval that is used where no earlier one shows how far apart two items are, µs. */
const usualInterval = 100_000;
/** A block that begins within this of the end of the one before is joined to it, µs. */
const joinTolerance = 2_000;

interface ArcClock {
  /** Corrected device time of the arc's newest item. */
  device: number;
  /** The last interval between two items that was positive and no longer than a reading may hold. */
  interval: number;
  /** Placed end of the newest item, if that was a block. */
  blockEnd: number | null;
  rank: number;
  seq: number | null;
  /** Number of clock breaks that the arc has been through. */
  breaks: number;
}

/** How device time becomes corrected time, and the state that is needed to continue. */
export interface DeviceClock {
  rank: number | null;
  /** The shift added to the device times of the boot, µs. */
  shift: number;
  lastRaw: number | null;
  /** The latest time until which values hold; a clock that does not continue is also placed here. */
  coverEnd: number;
  /** How often a boot's time did not continue that of the one before. */
  breaks: number;
  seq: number | null;
  /** Distinct seqs of the boot so far. */
  seqCount: number;
  arcs: Record<number, ArcClock>;
}

/** What is known of the item behind a stretch of values. */
export interface ItemFacts {
  readonly rank: number;
  readonly key: number;
  readonly seq: number | null;
  readonly seqCount: number;
  /** Where the item was placed instead of where the clock had stepped back to, µs of corrected time; null without a step. */
  readonly steppedAt: number | null;
  readonly byArrival: boolean;
  readonly identity: 'full' | 'time' | 'none';
  /** The revision of the carriage's sensors by which its values are read; -1 without one. */
  sensors: number;
}

/** An item with its place in corrected time, µs. */
export interface PlacedItem {
  readonly item: OrderedItem;
  readonly start: number;
  /** Where its values end by themselves: the end of a block, or the longest time for which a reading may hold. */
  readonly end: number;
  /** Whether the arc's earlier values cannot extend to this one, because the clock did not continue. */
  readonly broken: boolean;
  readonly facts: ItemFacts;
  /** The voltage as it was sent, if that of the item is corrected for the cable; else null. */
  readonly raw: Values | null;
}

export function startDeviceClock(): DeviceClock {
  return { rank: null, shift: 0, lastRaw: null, coverEnd: 0, breaks: 0, seq: null, seqCount: 0, arcs: {} };
}

export function cloneDeviceClock(clock: DeviceClock): DeviceClock {
  const arcs: Record<number, ArcClock> = {};
  for (const [arc, own] of Object.entries(clock.arcs)) arcs[Number(arc)] = { ...own };
  return { ...clock, arcs };
}

/** Starts a new boot; says whether its first item had to be placed after everything before it. */
function enterBoot(clock: DeviceClock, item: OrderedItem): boolean {
  const first = clock.rank === null;
  clock.rank = item.rank;
  clock.seq = null;
  clock.seqCount = 0;
  if (first || item.time === null || clock.lastRaw === null || item.time > clock.lastRaw) return false;
  clock.shift = clock.coverEnd - item.time;
  clock.breaks += 1;
  return true;
}

/**
 * Places one item, the next in order, in corrected time. Steps back are removed: the last interval that was positive and short enough replaces the
 * one that was not, and all later times of the boot are shifted with it.
 */
export function placeItem(clock: DeviceClock, item: OrderedItem, maxHold: number): PlacedItem {
  let stepped = item.rank !== clock.rank && enterBoot(clock, item);
  const own = (clock.arcs[item.arc] ??= {
    device: Number.NEGATIVE_INFINITY, interval: usualInterval, blockEnd: null, rank: item.rank, seq: null, breaks: clock.breaks,
  });
  const broken = own.breaks !== clock.breaks;
  own.breaks = clock.breaks;
  if (own.rank !== item.rank) {
    own.rank = item.rank;
    own.blockEnd = null;
    own.seq = null;
  }
  const isBlock = item.interval !== null;
  let device: number;
  let byArrival = false;
  if (item.time !== null) {
    device = item.time + clock.shift;
    if (device <= own.device) {
      const next = own.device + own.interval;
      clock.shift += next - device;
      device = next;
      stepped = true;
    } else if (device - own.device <= maxHold) {
      own.interval = device - own.device;
    }
  } else if (isBlock && own.blockEnd !== null && (own.seq === null || item.seq === null || item.seq === own.seq + 1)) {
    device = own.blockEnd;
  } else {
    byArrival = true;
    device = item.arrived > own.device ? item.arrived : own.device + own.interval;
  }
  own.device = device;
  own.seq = item.seq;

  let start = device;
  let end = device + maxHold;
  if (isBlock) {
    const interval = microseconds(item.interval);
    if (own.blockEnd !== null && Math.abs(device - own.blockEnd) <= Math.max(interval, joinTolerance)) start = own.blockEnd;
    end = Math.round(start + interval * item.count);
    own.blockEnd = end;
  } else {
    own.blockEnd = null;
  }
  if (item.time !== null) clock.lastRaw = item.time;
  clock.coverEnd = Math.max(clock.coverEnd, end);
  if (item.seq !== null && item.seq !== clock.seq) {
    clock.seq = item.seq;
    clock.seqCount += 1;
  }
  const identity = hasSequence(item) ? 'full' : item.time !== null ? 'time' : 'none';
  const facts = { rank: item.rank, key: item.key, seq: hasSequence(item) ? item.seq : null, seqCount: clock.seqCount, steppedAt: stepped ? start : null, byArrival, identity, sensors: -1 } as const;
  return { item, start, end, broken, facts, raw: null };
}

/** Converts ms to µs, without the rounding error that a decimal fraction leaves in the last bits. */
export function microseconds(interval: number): number {
  return Math.round(interval * 1e6) / 1e3;
}
