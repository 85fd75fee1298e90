import type { OptionalName, RequiredName } from '../quantities.js';

/** One value for the whole item, or one per sample of a block. */
export type Values = number | readonly number[];

/** The value of each sent quantity in an item, in the units of the API (`quantities`); null where it was not sent. */
export type SentValues = Readonly<Record<RequiredName, Values> & Record<OptionalName, Values | null>>;

/** One reading or one block, decoded and checked. */
export interface Item extends SentValues {
  /** The device's name of this power-up, or null where it sends none. */
  readonly boot: string | null;
  /** Running number within the boot, or null where it sends none. */
  readonly seq: number | null;
  /** Device time of the reading or of the block's first sample, whole microseconds since 1970, or null. */
  readonly time: number | null;
  /** Arc number from 1 in the direction of travel. */
  readonly arc: number;
  /** Sample interval of a block in ms; null for a reading. */
  readonly interval: number | null;
  /** Number of samples; 1 for a reading. */
  readonly count: number;
}

type Header = Pick<Item, 'boot' | 'seq' | 'time' | 'arc' | 'interval' | 'count'>;

/** Writes out every field, so that all items have one shape: code that reads them then takes a fraction of the time. */
export function shapedItem({ boot, seq, time, arc, interval, count }: Header, { current, voltage, travelSpeed, wireFeedSpeed, travel, plateTemperature }: SentValues): Item {
  return { boot, seq, time, arc, interval, count, current, voltage, travelSpeed, wireFeedSpeed, travel, plateTemperature };
}

/** An item together with its time and order of arrival. */
export interface ReceivedItem extends Item {
  /** Arrival time, whole microseconds since 1970. */
  readonly arrived: number;
  /** Running number of arrival within the carriage; decides where nothing else orders two items. */
  readonly arrival: number;
}

/** The value of sample `index`. */
export function valueAt(values: Values, index: number): number {
  return typeof values === 'number' ? values : (values[index] ?? Number.NaN);
}
