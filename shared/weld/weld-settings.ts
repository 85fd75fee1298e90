/** What the computation takes as given; times in whole microseconds, currents in A, voltages in V. */
export interface WeldSettings {
  /** How long a reading stands at most. */
  readonly maxHold: number;
  readonly arcOnCurrent: number;
  readonly arcOnVoltage: number;
  readonly arcOffCurrent: number;
  /** How long both lighting conditions must hold before the arc counts as lit. */
  readonly arcOnFor: number;
  /** How long the current must stay below `arcOffCurrent` before the arc counts as out. */
  readonly arcOffFor: number;
  /** Time without arc after which an assigned run is finished. */
  readonly runEndAfter: number;
  /** The same for a run without assignment. */
  readonly unassignedRunEndAfter: number;
  /** Below this absolute voltage a short circuit is seen; common practice, no source. */
  readonly shortCircuitVoltage: number;
}

export const defaultWeldSettings: WeldSettings = {
  maxHold: 1_000_000,
  arcOnCurrent: 40,
  arcOnVoltage: 10,
  arcOffCurrent: 20,
  arcOnFor: 200_000,
  arcOffFor: 300_000,
  runEndAfter: 900_000_000,
  unassignedRunEndAfter: 60_000_000,
  shortCircuitVoltage: 12,
};
