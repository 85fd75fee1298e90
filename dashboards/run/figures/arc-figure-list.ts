import type { Run } from '../../../shared/api-types/run.js';
import { spreadNames, type SpreadName } from '../../../shared/weld/quantities.js';
import type { ShownQuantity } from '../../shared/units.js';
import { whyAbsent } from './absent-text.js';
import type { Figure } from './figure.js';
import { figureWords } from './figure-words.js';
import { wireFigures } from './wire-figures.js';

type Arc = Run['arcs'][number];
type Single = 'energy' | 'arcTime' | 'length' | 'extinctions' | 'shortCircuits' | 'samples' | 'currentVariation' | 'voltageVariation';
type Spread = 'current' | 'voltage' | SpreadName;

/** The figures of one arc in the order in which they are read; the same for every arc. */
export function arcFigures(arc: Arc): readonly Figure[] {
  const name = figureWords();
  const one = (key: Single, label: string, quantity: ShownQuantity): Figure => ({ key: keyOf(arc, key), label, of: name.arcLabel(arc.arc), quantity, value: arc[key], why: whyAbsent(arc, key) });
  return [
    ...spreadFigures(arc, 'current'),
    one('currentVariation', name.currentVariation, 'currentVariation'),
    ...spreadFigures(arc, 'voltage'),
    one('voltageVariation', name.voltageVariation, 'voltageVariation'),
    ...spreadNames.flatMap((name) => spreadFigures(arc, name)),
    ...wireFigures(arc),
    one('energy', name.energy, 'energy'),
    one('arcTime', name.arcTime, 'time'),
    one('length', name.length, 'fineLength'),
    one('extinctions', name.extinctions, 'count'),
    one('shortCircuits', name.shortCircuits, 'count'),
    one('samples', name.samples, 'count'),
  ];
}

function keyOf({ arc }: Arc, figure: string): string {
  return `arcs.${arc}.${figure}`;
}

function spreadFigures(arc: Arc, of: Spread): Figure[] {
  const name = figureWords();
  const spread = arc[of];
  const one = (key: string, label: string, quantity: ShownQuantity, value: number | null | undefined): Figure => ({
    key: keyOf(arc, `${of}.${key}`), label, part: key !== 'mean', of: key === 'mean' ? name.arcLabel(arc.arc) : name.ofArcNumber(name[of], arc.arc), quantity, value: value ?? null, why: whyAbsent(arc, of),
  });
  return [
    one('mean', name.mean(name[of]), of, spread?.mean),
    one('min', name.least, of, spread?.min),
    one('max', name.greatest, of, spread?.max),
    ...(of === 'current' || of === 'voltage' ? [one('rms', name.rms, of, arc[of]?.rms)] : []),
    one('standardDeviation', name.deviation, `${of}Deviation`, spread?.standardDeviation),
  ];
}
