export const measurementKinds = ['preheat', 'interpass'] as const;
/** Preheat is measured before the first run, interpass temperature before any later one. */
export type MeasurementKind = (typeof measurementKinds)[number];

export const measurementPlaces = ['ahead', 'behind'] as const;
/** Whether the plate was measured ahead of the arc, on metal that is about to be welded, or behind it. */
export type MeasurementPlace = (typeof measurementPlaces)[number];

/** A temperature of the plate as it was entered: °C, mm, µs since 1970. */
export interface Measurement {
  readonly id: string;
  /** The id of the run that it was entered at; null if it was entered at the carriage, for the run to come. */
  readonly run: string | null;
  readonly kind: MeasurementKind;
  readonly value: number;
  /** When it was measured, by the clock of the carriage. */
  readonly at: number;
  /** The seam that was measured; null if it holds for whichever is welded next. */
  readonly seam: string | null;
  readonly place: MeasurementPlace;
  readonly seamPosition: number | null;
  /** Distance from the edge of the groove (ISO 13916). */
  readonly distance: number | null;
  readonly instrument: string | null;
  readonly by: string;
  /** Why it was entered so late, where somebody said so. */
  readonly reason: string | null;
  /** When it was entered, by the clock of the service. */
  readonly entered: number;
  /** Set once somebody withdrew it: it stays in the record and counts no more. */
  readonly withdrawn: Withdrawal | null;
}

/** `at` by the clock of the service. */
export interface Withdrawal {
  readonly at: number;
  readonly by: string;
  readonly reason: string | null;
}

/** The lowest and highest temperature that can be entered, °C: those that carriages may send as `plateTemperature`. */
export const measuredRange = { least: -100, greatest: 1500 } as const;
