import { spreadDefinitions } from './arc-definitions.js';
import { fromFigure, type FigureDefinition } from './figure-definition.js';

const samples = fromFigure('samples', 'arcs.N.samples', 'measured');
const arcTime = fromFigure('arcTime', 'arcs.N.arcTime');

/** Of arcs on alternating current, of the ripple of the others, and of voltage before it was corrected. */
export const alternatingDefinitions: readonly FigureDefinition[] = [
  { name: 'arcs.N.ac.currentRms', unit: 'A', formula: null, inputs: [samples, arcTime], method: 'rms', source: 'weighted', grade: 'X' },
  { name: 'arcs.N.ac.voltageRms', unit: 'V', formula: null, inputs: [samples, arcTime], method: 'rms', source: 'weighted', grade: 'X' },
  { name: 'arcs.N.ac.balance', unit: '', formula: null, inputs: [samples, arcTime], method: 'balance', source: 'ratio', grade: 'X' },
  { name: 'arcs.N.ac.currentOffset', unit: 'A', formula: null, inputs: [samples, arcTime], method: 'currentOffset', source: 'weighted', grade: 'X' },
  {
    name: 'arcs.N.ac.powerFactor', unit: '', formula: 'energy * 1000 / (voltageRms * currentRms * arcTime)',
    inputs: [fromFigure('energy', 'arcs.N.energy'), fromFigure('voltageRms', 'arcs.N.ac.voltageRms'), fromFigure('currentRms', 'arcs.N.ac.currentRms'), arcTime], method: 'powerFactor', source: 'powerFactor', grade: 'X',
  },
  { name: 'arcs.N.ripple', unit: '', formula: null, inputs: [fromFigure('mean', 'arcs.N.current.mean'), samples], method: 'ripple', source: 'ripple', grade: 'C' },
  ...spreadDefinitions('arcs.N.voltageRaw', 'V', ['rawMean', 'rawLeast', 'rawGreatest', 'rawDeviation', 'rawRms'], 'cable'),
];
