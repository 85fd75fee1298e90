import type { Run } from '../../shared/api-types/run.js';
import { quantities } from '../shared/quantities.js';
import type { Quantity } from '../shared/quantities.js';

export interface ListedFigure {
  readonly label: string;
  readonly of: Quantity;
  readonly value: (run: Run) => number | null;
}

/** The figures by which runs are told apart in the list. */
export const listedFigures: readonly ListedFigure[] = [
  { label: 'Arc time', of: quantities.arcTime, value: (run) => run.arcTime },
  { label: 'Length', of: quantities.length, value: (run) => run.length },
  { label: 'Travel speed', of: quantities.travelSpeed, value: (run) => run.travelSpeed?.mean ?? null },
  { label: 'Heat input', of: quantities.heatInput, value: (run) => run.heatInput },
];
