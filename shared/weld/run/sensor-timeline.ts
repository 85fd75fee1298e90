import { isAfter, type Place } from '../items/place.js';
import type { Sensors } from '../procedure/sensors.js';

/** One declaration of a carriage's sensors, which holds for the items after a place; from the very first where that is null. */
export interface SensorRevision {
  /** Its number among those of the carriage, from 1: also where an imported log has it alone. */
  readonly revision: number;
  readonly body: Sensors;
  readonly after: Place | null;
  /** When it was made, µs since 1970, and by whom. */
  readonly at: number;
  readonly by: string;
}

/** The declarations in their order: later ones never hold from an earlier place. */
export type SensorTimeline = readonly SensorRevision[];

/** The index of the newest revision that holds for an item; -1 if there is none. */
export function revisionAt(timeline: SensorTimeline, place: Place): number {
  return timeline.findLastIndex(({ after }) => after === null || isAfter(place, after));
}

export function sensorsOf(timeline: SensorTimeline, revision: number): Sensors | null {
  return timeline[revision]?.body ?? null;
}
