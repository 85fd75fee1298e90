/**
 * A power source of constant voltage with a slight droop, set so that it gives `voltage` V at `current` A.
 * `droop` is in V/A; 0.02 V/A, two volts in a hundred amperes, is common practice, no source.
 */
export interface PowerSource {
  readonly current: number;
  readonly voltage: number;
  readonly droop: number;
}

/** Voltage at the arc, V, when it draws `current` A and the set voltage is `rise` V too high. */
export function sourceVoltage(source: PowerSource, current: number, rise: number): number {
  return source.voltage + rise - source.droop * (current - source.current);
}

/** How many A the current changes when the arc's own voltage moves by `change` V: along the source's droop. */
export function currentAnswer(source: PowerSource, change: number): number {
  return -change / source.droop;
}
