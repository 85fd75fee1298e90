import type { Run } from '../../shared/api-types/run.js';
import { quantities } from '../shared/quantities.js';

type Arc = Run['arcs'][number];

export interface ArcRow {
  readonly label: string;
  /** Belongs to the figure above it. */
  readonly part?: boolean;
  readonly unit: string;
  readonly decimals: number;
  readonly value: (arc: Arc) => number | null;
}

/** The figures of an arc in the order in which they are read. */
export const arcRows: readonly ArcRow[] = [
  ...spreadRows('current'),
  { label: 'Current variation', unit: '%', decimals: 1, value: (arc) => percent(arc.currentVariation) },
  ...spreadRows('voltage'),
  { label: 'Voltage variation', unit: '%', decimals: 1, value: (arc) => percent(arc.voltageVariation) },
  { ...quantities.wireFeedSpeed, label: 'Wire feed speed, mean', value: (arc) => arc.wireFeedSpeed?.mean ?? null },
  { ...quantities.energy, value: (arc) => arc.energy },
  { ...quantities.arcTime, value: (arc) => arc.arcTime },
  { ...quantities.length, value: (arc) => arc.length },
  { label: 'Extinctions', unit: '', decimals: 0, value: (arc) => arc.extinctions },
  { label: 'Short circuits', unit: '', decimals: 0, value: (arc) => arc.shortCircuits },
  { label: 'Samples, arc on', unit: '', decimals: 0, value: (arc) => arc.samples },
];

function spreadRows(name: 'current' | 'voltage'): ArcRow[] {
  const { label, unit, decimals } = quantities[name];
  const part = { part: true, unit, decimals };
  return [
    { label: `${label}, mean`, unit, decimals, value: (arc) => arc[name]?.mean ?? null },
    { ...part, label: 'least', value: (arc) => arc[name]?.min ?? null },
    { ...part, label: 'greatest', value: (arc) => arc[name]?.max ?? null },
    { ...part, label: 'RMS', value: (arc) => arc[name]?.rms ?? null },
    { ...part, label: 'standard deviation', decimals: decimals + 1, value: (arc) => arc[name]?.standardDeviation ?? null },
  ];
}

function percent(share: number | null): number | null {
  return share === null ? null : share * 100;
}
