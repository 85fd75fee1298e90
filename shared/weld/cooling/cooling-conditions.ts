/** Where the temperature of the plate before the arc comes from: measured as preheat or as interpass temperature, or only declared with the assignment. */
export type TemperatureFrom = 'preheat' | 'interpass' | 'declared';

/** The temperature of the plate when the run was struck, °C. */
export interface StartTemperature {
  readonly value: number;
  readonly from: TemperatureFrom;
}

/** A temperature that was measured before the arc and counts for the run. */
export interface MeasuredStart extends StartTemperature {
  readonly from: Exclude<TemperatureFrom, 'declared'>;
}

/** What the cooling time depends on besides heat input. */
export interface CoolingConditions {
  /** Thickness of the parent material, mm; null where the assignment names none. */
  readonly thickness: number | null;
  /** Shape factors for two- and three-dimensional heat flow (EN 1011-2, table D.1), by the procedure; 1 for a run on a plate. */
  readonly f2: number;
  readonly f3: number;
  readonly temperature: StartTemperature | null;
}
