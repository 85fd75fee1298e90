/** Widths of the cells: 1 V and 10 A. */
export const voltageStep = 1;
export const currentStep = 10;

/** More than the greatest number of a current's bin: 5,000 A are the most that is taken. */
const perVoltage = 1_000;

/**
 * How long voltage and current of an arc were in which cell: s, by a number that orders cells by voltage, then current. Cells are counted in magnitudes, so
 * that both half waves of an alternating current fall together.
 */
export type DensityCells = Map<number, number>;

export function densityCell(voltage: number, current: number): number {
  return Math.floor(Math.abs(voltage) / voltageStep) * perVoltage + Math.floor(Math.abs(current) / currentStep);
}

export function addToDensity(cells: DensityCells, cell: number, seconds: number): void {
  cells.set(cell, (cells.get(cell) ?? 0) + seconds);
}

export function joinDensity(cells: DensityCells, more: Readonly<DensityCells>): void {
  for (const [cell, seconds] of more) addToDensity(cells, cell, seconds);
}

/** The cells in order, as bins of voltage and current with their time in s; empty ones are left out. */
export function densityList(cells: Readonly<DensityCells>): [voltageBin: number, currentBin: number, seconds: number][] {
  return [...cells].filter(([, seconds]) => seconds > 0).sort(([a], [b]) => a - b).map(([cell, seconds]) => [Math.floor(cell / perVoltage), cell % perVoltage, seconds]);
}
