import type { Density } from '../../../shared/api-types/trace.js';

/** A cell of the picture: its place in units of cells from the lower left corner, how dark it is (0 to 1), and what it stands for. */
export interface DensityMark {
  readonly x: number;
  readonly y: number;
  readonly shade: number;
  readonly current: number;
  readonly voltage: number;
  readonly seconds: number;
}

export interface DensityPlot {
  readonly marks: readonly DensityMark[];
  readonly columns: number;
  readonly rows: number;
  /** The numbers at the axes, each with its place in cells. */
  readonly currents: readonly { readonly at: number; readonly value: number }[];
  readonly voltages: readonly { readonly at: number; readonly value: number }[];
  /** The cell in which the arc was longest, and that time as a share of all. */
  readonly peak: DensityMark & { readonly share: number };
}

/** The fewest labels between the ends of an axis that still read well. */
const labels = 5;

/** Lays out the cells. Shades go by the logarithm of the time, so that rare values show beside frequent ones. Null without cells. */
export function densityPlot({ cells, currentStep, voltageStep, seconds }: Density): DensityPlot | null {
  const [lowX, highX] = rangeOf(cells.map(([, current]) => current));
  const [lowY, highY] = rangeOf(cells.map(([voltage]) => voltage));
  const most = Math.max(...cells.map(([, , time]) => time));
  const least = Math.min(...cells.map(([, , time]) => time));
  const marks = cells.map(([voltage, current, time]): DensityMark => ({
    x: current - lowX, y: voltage - lowY, current: current * currentStep, voltage: voltage * voltageStep, seconds: time,
    shade: most === least ? 1 : 0.15 + 0.85 * (Math.log(time / least) / Math.log(most / least)),
  }));
  const peak = marks.find((own) => own.seconds === most);
  if (peak === undefined) return null;
  return {
    marks, columns: highX - lowX + 1, rows: highY - lowY + 1,
    currents: axis(lowX, highX, currentStep), voltages: axis(lowY, highY, voltageStep), peak: { ...peak, share: most / seconds },
  };
}

function rangeOf(bins: readonly number[]): [number, number] {
  return [Math.min(...bins), Math.max(...bins)];
}

function axis(low: number, high: number, step: number): { at: number; value: number }[] {
  const every = [1, 2, 5, 10, 20, 50, 100, 200].find((own) => (high - low + 1) / own <= labels) ?? 500;
  const found: { at: number; value: number }[] = [];
  for (let bin = Math.ceil(low / every) * every; bin <= high + 1; bin += every) found.push({ at: bin - low, value: bin * step });
  return found;
}
