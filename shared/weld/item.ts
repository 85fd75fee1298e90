/** One value for the whole item, or one per sample of a block. */
export type Values = number | readonly number[];

/**
 * One reading or one block, decoded and checked, in the units of the outside:
 * current A, voltage V, travel speed mm/min, wire feed speed m/min, travel mm, plate temperature °C.
 */
export interface Item {
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
  readonly current: Values;
  readonly voltage: Values;
  readonly travelSpeed: Values | null;
  readonly wireFeedSpeed: Values | null;
  readonly travel: Values | null;
  readonly plateTemperature: Values | null;
}

/** An item together with when and in which order it arrived. */
export interface ReceivedItem extends Item {
  /** Arrival time, whole microseconds since 1970. */
  readonly arrived: number;
  /** Running number of arrival within the carriage; breaks ties where nothing else orders two items. */
  readonly arrival: number;
}

/** The value of sample `index`. */
export function valueAt(values: Values, index: number): number {
  return typeof values === 'number' ? values : (values[index] ?? Number.NaN);
}
