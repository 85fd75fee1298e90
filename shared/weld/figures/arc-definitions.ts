import { quantities, spreadNames } from '../quantities.js';
import { fromFigure, type FigureDefinition } from './figure-definition.js';
import type { MethodCode } from './method-texts.js';
import type { SourceCode } from './source-texts.js';

const samples = fromFigure('samples', 'arcs.N.samples', 'measured');
const arcTime = fromFigure('arcTime', 'arcs.N.arcTime');

const spreadParts = ['mean', 'min', 'max', 'standardDeviation', 'rms'] as const;

/** Methods of a spread: mean, extremes, standard deviation and, for current and voltage, RMS value. */
export type SpreadMethods = readonly [mean: MethodCode, min: MethodCode, max: MethodCode, standardDeviation: MethodCode, rms?: MethodCode];

const electric: SpreadMethods = ['mean', 'least', 'greatest', 'deviation', 'rms'];
const sent: SpreadMethods = ['meanSent', 'leastSent', 'greatestSent', 'deviation'];

/** The figures of a spread of one arc. */
export function spreadDefinitions(path: string, unit: string, methods: SpreadMethods, source: SourceCode = 'weighted'): FigureDefinition[] {
  return methods.flatMap((method, place) => (method === undefined ? [] : [{ name: `${path}.${spreadParts[place] ?? ''}`, unit, formula: null, inputs: [samples, arcTime], method, source, grade: 'X' as const }]));
}

function variation(of: 'current' | 'voltage'): FigureDefinition {
  return {
    name: `arcs.N.${of}Variation`, unit: '', formula: 'standardDeviation / abs(mean)', inputs: [fromFigure('standardDeviation', `arcs.N.${of}.standardDeviation`), fromFigure('mean', `arcs.N.${of}.mean`)],
    method: 'variation', source: 'variation', grade: 'P',
  };
}

/** What every arc has. */
export const arcDefinitions: readonly FigureDefinition[] = [
  ...spreadDefinitions('arcs.N.current', quantities.current.unit, electric),
  variation('current'),
  ...spreadDefinitions('arcs.N.voltage', quantities.voltage.unit, electric),
  variation('voltage'),
  ...spreadNames.flatMap((name) => spreadDefinitions(`arcs.N.${name}`, quantities[name].unit, sent)),
  { name: 'arcs.N.energy', unit: 'kJ', formula: null, inputs: [samples, arcTime], method: 'energyOfArc', source: 'energy', grade: 'P' },
  { name: 'arcs.N.arcTime', unit: 's', formula: null, inputs: [], method: 'arcTimeOfArc', source: 'arcOn', grade: 'C' },
  { name: 'arcs.N.length', unit: 'mm', formula: null, inputs: [], method: 'lengthOfArc', source: 'travel', grade: 'C' },
  { name: 'arcs.N.extinctions', unit: '', formula: null, inputs: [], method: 'extinctions', source: 'events', grade: 'C' },
  { name: 'arcs.N.shortCircuits', unit: '', formula: null, inputs: [], method: 'shortCircuits', source: 'events', grade: 'C' },
  { name: 'arcs.N.samples', unit: '', formula: null, inputs: [], method: 'samples', source: 'count', grade: 'X' },
];
