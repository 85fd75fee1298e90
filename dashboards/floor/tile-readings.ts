import type { Carriage } from '../../shared/api-types/carriage.js';
import type { Window } from '../shared/window-place.js';

export const readingNames = ['current', 'voltage', 'travelSpeed', 'heatInput'] as const;
export type ReadingName = (typeof readingNames)[number];

/** One of the values that a tile shows, in the API's unit, with its limits. */
export interface TileReading {
  readonly name: ReadingName;
  /** Null for what is of the carriage as a whole. */
  readonly arc: number | null;
  readonly value: number;
  readonly window: Window | null;
  /** Whether it is measured now: current and voltage of an arc that is out are the last ones. */
  readonly on: boolean;
}

/** The newest values: current and voltage of each arc, travel speed, heat input. What was not sent is left out. */
export function tileReadings({ arcs, travelSpeed, localHeatInput, heatInput, windows, welding }: Carriage): readonly TileReading[] {
  const heat = localHeatInput ?? heatInput;
  const of = (name: ReadingName, arc: number | null, value: number | null, window: Window | undefined, on: boolean): TileReading[] =>
    value === null ? [] : [{ name, arc, value, window: window ?? null, on: on && welding }];
  return [
    ...arcs.flatMap(({ arc, current, voltage, on }) => {
      const own = windows?.arcs.find((one) => one.arc === arc);
      return [...of('current', arc, current, own?.current, on), ...of('voltage', arc, voltage, own?.voltage, on)];
    }),
    ...of('travelSpeed', null, travelSpeed, windows?.travelSpeed, true),
    ...of('heatInput', null, heat, windows?.heatInput, localHeatInput !== null),
  ];
}
