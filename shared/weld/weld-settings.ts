/** The settings of the computation; times in whole microseconds, currents in A, voltages in V. */
export interface WeldSettings {
  /** The longest time for which a reading holds. */
  readonly maxHold: number;
  readonly arcOnCurrent: number;
  readonly arcOnVoltage: number;
  readonly arcOffCurrent: number;
  /** How long both lighting conditions must hold before the arc counts as lit. */
  readonly arcOnFor: number;
  /** How long the current must stay below `arcOffCurrent` before the arc counts as out. */
  readonly arcOffFor: number;
  /** Time without an arc after which an assigned run is finished. */
  readonly runEndAfter: number;
  /** The same for a run without assignment. */
  readonly unassignedRunEndAfter: number;
  /** An absolute voltage below this counts as a short circuit; common practice, no source. */
  readonly shortCircuitVoltage: number;
  /** For how long before the start of a run a measured temperature of the plate counts; common practice, no source. */
  readonly temperatureAge: number;
  /** Temperature of the shop, to which a plate cools, °C; common practice, no source. */
  readonly ambient: number;
}

export const defaultWeldSettings: WeldSettings = {
  maxHold: 1_000_000, arcOnCurrent: 40, arcOnVoltage: 10, arcOffCurrent: 20, arcOnFor: 200_000, arcOffFor: 300_000,
  runEndAfter: 900_000_000, unassignedRunEndAfter: 60_000_000, shortCircuitVoltage: 12, temperatureAge: 300_000_000, ambient: 20,
};
