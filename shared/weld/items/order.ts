import type { Item, ReceivedItem } from './item.js';

/** The place of an item in the order of its carriage. */
export interface Position {
  /** Rank of the boot, in the order in which boots were first seen; items without boot or seq share one rank. */
  readonly rank: number;
  /** The seq within the boot; without one, the time (of arrival, if need be) in µs. */
  readonly key: number;
  readonly arc: number;
  /** Running number of arrival; decides only if nothing else does. */
  readonly arrival: number;
}

export interface OrderedItem extends ReceivedItem, Position {}

export function comparePositions(a: Position, b: Position): number {
  return a.rank - b.rank || a.key - b.key || a.arc - b.arc || a.arrival - b.arrival;
}

/** Whether an item has the full identity (boot and seq) by which it is ordered within its boot. */
export function hasSequence(item: { readonly boot: string | null; readonly seq: number | null }): boolean {
  return item.boot !== null && item.seq !== null;
}

/** The name of the boot within which an item is ordered; items without boot or seq are ordered by time under the empty name. */
export function bootName(item: { readonly boot: string | null; readonly seq: number | null }): string {
  return item.boot !== null && item.seq !== null ? item.boot : '';
}

/** Gives an item its place, once the rank of its boot is known. `arrived` is µs since 1970. Fields are written out as in `shapedItem`. */
export function orderItem(item: Item, rank: number, arrived: number, arrival: number): OrderedItem {
  const { boot, seq, time, arc, interval, count, current, voltage, travelSpeed, wireFeedSpeed, travel, plateTemperature } = item;
  const key = boot !== null && seq !== null ? seq : (time ?? arrived);
  return { boot, seq, time, arc, interval, count, current, voltage, travelSpeed, wireFeedSpeed, travel, plateTemperature, arrived, arrival, rank, key };
}
