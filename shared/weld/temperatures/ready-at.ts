/** A temperature of the cooling plate: °C, µs. */
export interface CoolingPoint {
  readonly id: string;
  readonly value: number;
  readonly at: number;
}

/** The limits between which the next run may begin, °C; null where none is given. */
export interface CoolingLimits {
  readonly interpassMax: number | null;
  readonly preheatMin: number | null;
}

/** Why no time can be given. */
export type NotReady = 'fewMeasurements' | 'oneMeasurement' | 'plateNotCooling' | 'plateAtAmbient' | 'limitAtAmbient' | 'noTemperatureLimit';

/** When a cooling plate reaches a limit, µs; an estimate, never a measurement or a release. */
export type Reached = { readonly at: number } | { readonly why: NotReady };

export interface ReadyAt {
  /** When the interpass temperature has fallen to its max. */
  readonly at: Reached;
  /** When the plate has fallen to the min of preheat. */
  readonly until: Reached;
  /** The ids of the two measurements; null if there are fewer. */
  readonly from: readonly [string, string] | null;
}

/**
 * When a plate that cools in air will have reached its limits. `points` are the measurements since the arc went out, in order of time; the last two count.
 * Newton's law of cooling, T(t) = A + (T2 − A)·exp(−k·(t − t2)) with k = ln((T1 − A)/(T2 − A))/(t2 − t1), where A is the temperature of the shop, °C: common
 * practice for an estimate, no source for plates.
 */
export function readyAt(points: readonly CoolingPoint[], { interpassMax, preheatMin }: CoolingLimits, ambient: number): ReadyAt {
  const [first, second] = points.slice(-2);
  if (first === undefined || second === undefined) {
    const why = first === undefined ? 'fewMeasurements' : 'oneMeasurement';
    return { at: { why }, until: { why }, from: null };
  }
  return { at: reached(first, second, interpassMax, ambient), until: reached(first, second, preheatMin, ambient), from: [first.id, second.id] };
}

function reached(first: CoolingPoint, second: CoolingPoint, limit: number | null, ambient: number): Reached {
  if (limit === null) return { why: 'noTemperatureLimit' };
  if (first.value <= second.value || first.at >= second.at) return { why: 'plateNotCooling' };
  if (second.value <= ambient) return { why: 'plateAtAmbient' };
  if (limit <= ambient) return { why: 'limitAtAmbient' };
  if (second.value <= limit) return { at: second.at };
  const rate = Math.log((first.value - ambient) / (second.value - ambient)) / (second.at - first.at);
  return { at: Math.round(second.at + Math.log((second.value - ambient) / (limit - ambient)) / rate) };
}
