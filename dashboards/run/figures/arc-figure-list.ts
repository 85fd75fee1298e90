import type { Run } from '../../../shared/api-types/run.js';
import { spreadNames, type SpreadName } from '../../../shared/weld/quantities.js';
import { shown, type ShownQuantity } from '../../shared/units.js';
import { whyAbsent } from './absent-text.js';
import type { Figure, FigureInput, FigureOrigin } from './figure.js';
import { figureWords } from './figure-words.js';
import { originWords } from './origin-words.js';
import { wireFigures } from './wire-figures.js';

type Arc = Run['arcs'][number];
type Single = 'energy' | 'arcTime' | 'length' | 'extinctions' | 'shortCircuits' | 'samples';
type Spread = 'current' | 'voltage' | SpreadName;

/** The figures of one arc in the order in which they are read; the same for every arc. */
export function arcFigures(arc: Arc): readonly Figure[] {
  const name = figureWords();
  const origin = originWords();
  const one = (key: Single, label: string, quantity: ShownQuantity, value: number | null, from: FigureOrigin): Figure => ({
    key: `arc${arc.arc}.${key}`, label, of: name.arcLabel(arc.arc), quantity, value, why: whyAbsent(arc, key), origin: from,
  });
  return [
    ...spreadFigures(arc, 'current'),
    variationFigure(arc, 'current'),
    ...spreadFigures(arc, 'voltage'),
    variationFigure(arc, 'voltage'),
    ...spreadNames.flatMap((name) => spreadFigures(arc, name)),
    ...wireFigures(arc),
    one('energy', name.energy, 'energy', arc.energy, { formula: origin.oneArcEnergy, inputs: [meanInput(arc, 'current'), meanInput(arc, 'voltage'), timeInput(arc)], source: origin.energySource }),
    one('arcTime', name.arcTime, 'time', arc.arcTime, { formula: origin.oneArcTime, inputs: [], source: origin.arcOnSource }),
    one('length', name.length, 'fineLength', arc.length, { formula: origin.oneArcLength, inputs: [timeInput(arc)], source: origin.lengthSource }),
    one('extinctions', name.extinctions, 'count', arc.extinctions, { formula: origin.extinctions, inputs: [], source: origin.eventSource }),
    one('shortCircuits', name.shortCircuits, 'count', arc.shortCircuits, { formula: origin.shortCircuits, inputs: [], source: origin.eventSource }),
    one('samples', name.samples, 'count', arc.samples, { formula: origin.samples, inputs: [], source: origin.ownRule }),
  ];
}

function spreadFigures(arc: Arc, of: Spread): Figure[] {
  const name = figureWords();
  const origin = originWords();
  const spread = arc[of];
  const one = (key: string, label: string, quantity: ShownQuantity, value: number | null | undefined, formula: string, inputs: readonly FigureInput[]): Figure => ({
    key: `arc${arc.arc}.${of}.${key}`, label, part: key !== 'mean', of: key === 'mean' ? name.arcLabel(arc.arc) : name.ofArcNumber(name[of], arc.arc), quantity, value: value ?? null, why: whyAbsent(arc, of),
    origin: { formula, inputs, source: origin.weightedSource },
  });
  const time = [timeInput(arc)];
  return [
    one('mean', name.mean(name[of]), of, spread?.mean, origin.mean, time),
    one('min', name.least, of, spread?.min, origin.least, []),
    one('max', name.greatest, of, spread?.max, origin.greatest, []),
    ...(of === 'current' || of === 'voltage' ? [one('rms', name.rms, of, arc[of]?.rms, origin.rms, time)] : []),
    one('standardDeviation', name.deviation, `${of}Deviation`, spread?.standardDeviation, origin.deviation, [meanInput(arc, of), ...time]),
  ];
}

function variationFigure(arc: Arc, of: 'current' | 'voltage'): Figure {
  const name = figureWords();
  const origin = originWords();
  const quantity = `${of}Variation` as const;
  const deviation = { name: name.deviation, text: shown(`${of}Deviation`, arc[of]?.standardDeviation), key: `arc${arc.arc}.${of}.standardDeviation` };
  return {
    key: `arc${arc.arc}.${quantity}`, label: name[quantity], of: name.arcLabel(arc.arc), quantity, value: arc[quantity], why: whyAbsent(arc, quantity),
    origin: { formula: origin.variation, inputs: [deviation, meanInput(arc, of)], source: origin.variationSource },
  };
}

function meanInput(arc: Arc, of: Spread): FigureInput {
  const name = figureWords();
  return { name: name.mean(name[of]), text: shown(of, arc[of]?.mean), key: `arc${arc.arc}.${of}.mean` };
}

function timeInput(arc: Arc): FigureInput {
  return { name: figureWords().arcTime, text: shown('time', arc.arcTime), key: `arc${arc.arc}.arcTime` };
}
