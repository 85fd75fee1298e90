import { quantities, spreadNames } from '../quantities.js';
import { thermalEfficiency } from './declared-inputs.js';
import { fromFigure, type FigureDefinition } from './figure-definition.js';

/** A mean over the weld zone. */
function weldMean(name: string, unit: string, method: 'weldMean' | 'weldMeanSent'): FigureDefinition {
  return { name, unit, formula: null, inputs: [fromFigure('arcTime', 'weldZone.arcTime')], method, source: 'zones', grade: 'C' };
}

/** Of the weld zone: without arc start, crater and tabs. */
export const weldZoneDefinitions: readonly FigureDefinition[] = [
  {
    name: 'weldZone.heatInput', unit: 'kJ/mm',
    // With several arcs each has its own length, which the weld zone as a whole does not tell.
    formula: { forms: ['energy / length * thermalEfficiency'], choose: ({ run }) => (run.arcs.length === 1 ? 'energy / length * thermalEfficiency' : null) },
    inputs: [fromFigure('energy', 'weldZone.energy'), fromFigure('length', 'weldZone.length'), thermalEfficiency('thermalEfficiency')], method: 'weldHeatInput', source: 'weldHeatInput', grade: 'C',
  },
  { name: 'weldZone.length', unit: 'mm', formula: null, inputs: [], method: 'weldLength', source: 'zones', grade: 'C' },
  { name: 'weldZone.arcTime', unit: 's', formula: null, inputs: [], method: 'weldArcTime', source: 'zones', grade: 'C' },
  { name: 'weldZone.energy', unit: 'kJ', formula: null, inputs: [fromFigure('arcTime', 'weldZone.arcTime')], method: 'weldEnergy', source: 'zones', grade: 'C' },
  weldMean('weldZone.travelSpeed', quantities.travelSpeed.unit, 'weldMeanSent'),
  ...(['current', 'voltage'] as const).map((name) => weldMean(`weldZone.arcs.N.${name}`, quantities[name].unit, 'weldMean')),
  ...spreadNames.map((name) => weldMean(`weldZone.arcs.N.${name}`, quantities[name].unit, 'weldMeanSent')),
];
