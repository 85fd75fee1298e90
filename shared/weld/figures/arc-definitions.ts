import { quantities, spreadNames } from '../quantities.js';
import { fromFigure, type FigureDefinition } from './figure-definition.js';
import type { MethodCode } from './method-texts.js';
import type { SourceCode } from './source-texts.js';

const samples = fromFigure('samples', 'arcs.N.samples', 'measured');
const arcTime = fromFigure('arcTime', 'arcs.N.arcTime');

/** Mean, extremes, standard deviation and, for current and voltage, RMS value of what an arc sent. */
export function spreadDefinitions(path: string, unit: string, hasRms: boolean, source: SourceCode = 'weighted', method?: MethodCode): FigureDefinition[] {
  const own = (name: string, of: MethodCode): FigureDefinition => ({ name: `${path}.${name}`, unit, formula: null, inputs: [samples, arcTime], method: method ?? of, source, grade: 'X' });
  return [own('mean', 'mean'), own('min', 'least'), own('max', 'greatest'), own('standardDeviation', 'deviation'), ...(hasRms ? [own('rms', 'rms')] : [])];
}

function variation(of: 'current' | 'voltage'): FigureDefinition {
  return {
    name: `arcs.N.${of}Variation`, unit: '', formula: 'standardDeviation / abs(mean)', inputs: [fromFigure('standardDeviation', `arcs.N.${of}.standardDeviation`), fromFigure('mean', `arcs.N.${of}.mean`)],
    method: 'variation', source: 'variation', grade: 'P',
  };
}

/** What every arc has. */
export const arcDefinitions: readonly FigureDefinition[] = [
  ...spreadDefinitions('arcs.N.current', quantities.current.unit, true),
  variation('current'),
  ...spreadDefinitions('arcs.N.voltage', quantities.voltage.unit, true),
  variation('voltage'),
  ...spreadNames.flatMap((name) => spreadDefinitions(`arcs.N.${name}`, quantities[name].unit, false)),
  { name: 'arcs.N.energy', unit: 'kJ', formula: null, inputs: [samples, arcTime], method: 'energyOfArc', source: 'energy', grade: 'P' },
  { name: 'arcs.N.arcTime', unit: 's', formula: null, inputs: [], method: 'arcTimeOfArc', source: 'arcOn', grade: 'C' },
  { name: 'arcs.N.length', unit: 'mm', formula: null, inputs: [], method: 'lengthOfArc', source: 'travel', grade: 'C' },
  { name: 'arcs.N.extinctions', unit: '', formula: null, inputs: [], method: 'extinctions', source: 'events', grade: 'C' },
  { name: 'arcs.N.shortCircuits', unit: '', formula: null, inputs: [], method: 'shortCircuits', source: 'events', grade: 'C' },
  { name: 'arcs.N.samples', unit: '', formula: null, inputs: [], method: 'samples', source: 'count', grade: 'X' },
];
