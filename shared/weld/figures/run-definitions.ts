import { thermalEfficiency } from './declared-inputs.js';
import { fromFigure, type FigureDefinition } from './figure-definition.js';
import type { FiguredRun } from './figured-run.js';
import type { MethodCode } from './method-texts.js';

/** Every arc of the run, and those of them that travelled: only these have an energy per length. */
export const everyArc = (run: FiguredRun): number[] => run.arcs.map(({ arc }) => arc);
export const travelledArcs = (run: FiguredRun): number[] => run.arcs.filter(({ length }) => length !== null && length > 0).map(({ arc }) => arc);

const lengthPart = (name: 'inside' | 'outside' | 'notProven' | 'excluded'): FigureDefinition => ({
  name: `lengths.${name}`, unit: 'mm', formula: null, inputs: [fromFigure('length', 'length')], method: name, source: 'lengths', grade: 'C',
});

const speed = (name: string, method: MethodCode): FigureDefinition => ({ name: `travelSpeed.${name}`, unit: 'mm/min', formula: null, inputs: [], method, source: 'weighted', grade: 'X' });

/** Energy, time and length of the whole run. */
export const runDefinitions: readonly FigureDefinition[] = [
  {
    name: 'heatInput', unit: 'kJ/mm', formula: 'arcEnergy * thermalEfficiency', inputs: [fromFigure('arcEnergy', 'arcEnergy'), thermalEfficiency('thermalEfficiency')],
    method: 'heatInput', source: 'heatInput', grade: 'P',
  },
  {
    name: 'arcEnergy', unit: 'kJ/mm', formula: { sum: 'energyN / lengthN', arcs: travelledArcs }, inputs: [fromFigure('energyN', 'arcs.N.energy'), fromFigure('lengthN', 'arcs.N.length')],
    method: 'arcEnergy', source: 'arcEnergy', grade: 'P',
  },
  { name: 'thermalEfficiency', unit: '', formula: 'k', inputs: [thermalEfficiency('k')], method: 'thermalEfficiency', source: 'heatInput', grade: 'P' },
  { name: 'energy', unit: 'kJ', formula: { sum: 'energyN', arcs: everyArc }, inputs: [fromFigure('energyN', 'arcs.N.energy')], method: 'energyOfArcs', source: 'energy', grade: 'P' },
  { name: 'arcTime', unit: 's', formula: null, inputs: [], method: 'arcTime', source: 'arcOn', grade: 'C' },
  { name: 'duration', unit: 's', formula: null, inputs: [], method: 'duration', source: 'arcOn', grade: 'C' },
  { name: 'length', unit: 'mm', formula: null, inputs: [], method: 'length', source: 'travel', grade: 'C' },
  lengthPart('inside'), lengthPart('outside'), lengthPart('notProven'), lengthPart('excluded'),
  { name: 'travelled', unit: 'mm', formula: null, inputs: [], method: 'travelled', source: 'travel', grade: 'C' },
  speed('mean', 'meanSpeed'), speed('min', 'leastSpeed'), speed('max', 'greatestSpeed'), speed('standardDeviation', 'deviationOfSpeed'),
  { name: 'excursions', unit: '', formula: null, inputs: [], method: 'excursions', source: 'excursions', grade: 'C' },
];

/** Places of restarts and data gaps, by their number in the run. */
export const placeDefinitions: readonly FigureDefinition[] = [
  ...['restarts.N.stoppedTravelled', 'restarts.N.restartedTravelled'].map((name): FigureDefinition => ({ name, unit: 'mm', formula: null, inputs: [], method: 'place', source: 'travel', grade: 'C' })),
  {
    name: 'restarts.N.overlap', unit: 'mm', formula: 'stopped - restarted', inputs: [fromFigure('stopped', 'restarts.N.stoppedTravelled'), fromFigure('restarted', 'restarts.N.restartedTravelled')],
    method: 'restartOverlap', source: 'travel', grade: 'C',
  },
  ...['dataGaps.N.fromTravelled', 'dataGaps.N.toTravelled'].map((name): FigureDefinition => ({ name, unit: 'mm', formula: null, inputs: [], method: 'place', source: 'travel', grade: 'C' })),
];
