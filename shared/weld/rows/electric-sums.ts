/** Current and voltage of a stretch, integrated over time: A·s, V·s, J, A²·s, V²·s; their extremes; and the s with a current above 0. */
export interface ElectricSums {
  current: number;
  voltage: number;
  energy: number;
  currentSquared: number;
  voltageSquared: number;
  minCurrent: number;
  maxCurrent: number;
  minVoltage: number;
  maxVoltage: number;
  positiveTime: number;
}

/** Adds values that held for `dt` s. Power is multiplied sample by sample. */
export function addSample(sums: ElectricSums, current: number, voltage: number, dt: number): void {
  sums.current += current * dt;
  sums.voltage += voltage * dt;
  sums.energy += voltage * current * dt;
  sums.currentSquared += current * current * dt;
  sums.voltageSquared += voltage * voltage * dt;
  if (current > 0) sums.positiveTime += dt;
  // A value that held for no time (a last reading) is counted, but does not affect the extremes.
  if (dt > 0) widen(sums, current, current, voltage, voltage);
}

export function widen(sums: ElectricSums, minCurrent: number, maxCurrent: number, minVoltage: number, maxVoltage: number): void {
  if (minCurrent < sums.minCurrent) sums.minCurrent = minCurrent;
  if (maxCurrent > sums.maxCurrent) sums.maxCurrent = maxCurrent;
  if (minVoltage < sums.minVoltage) sums.minVoltage = minVoltage;
  if (maxVoltage > sums.maxVoltage) sums.maxVoltage = maxVoltage;
}
