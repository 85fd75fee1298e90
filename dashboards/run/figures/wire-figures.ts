import type { Run } from '../../../shared/api-types/run.js';
import { shown } from '../../shared/units.js';
import { whyAbsent } from './absent-text.js';
import type { Figure, FigureInput } from './figure.js';
import { figureWords } from './figure-words.js';
import { originWords } from './origin-words.js';

type Arc = Run['arcs'][number];

/** Current density of an arc, and its electrode extension: as it was declared, and by how much it seems to have changed. */
export function wireFigures(arc: Arc): readonly Figure[] {
  const name = figureWords();
  const origin = originWords();
  const { extension } = arc;
  const of = name.arcLabel(arc.arc);
  const why = (field: string): Figure['why'] => whyAbsent(arc, `extension.${field}`) ?? whyAbsent(arc, 'extension');
  const verdict = (against: 'procedure' | 'trade'): FigureInput[] => {
    const found = extension?.[against] ?? null;
    return found === null ? [] : [{ name: against === 'procedure' ? name.againstProcedure : name.againstTrade, text: found === 'inside' ? name.inside : name.outside }];
  };
  const means: FigureInput[] = (['first', 'last'] as const).flatMap((end) => {
    const from = extension?.estimatedFrom?.[end];
    if (from === undefined) return [];
    const place = end === 'first' ? name.firstOfWeld : name.lastOfWeld;
    return [{ name: place(name.current), text: shown('current', from.current) }, { name: place(name.wireFeedSpeed), text: shown('wireFeedSpeed', from.wireFeedSpeed) }];
  });
  const declared: FigureInput = { name: name.electrodeExtension, text: shown('electrodeExtension', extension?.declared), key: `arc${arc.arc}.extension.declared` };
  return [
    {
      key: `arc${arc.arc}.currentDensity`, label: name.currentDensity, of, quantity: 'currentDensity', value: arc.currentDensity, why: whyAbsent(arc, 'currentDensity'),
      origin: { formula: origin.currentDensity, inputs: [{ name: name.mean(name.current), text: shown('current', arc.current?.mean), key: `arc${arc.arc}.current.mean` }], source: origin.currentDensitySource },
    },
    {
      key: `arc${arc.arc}.extension.declared`, label: name.electrodeExtension, of, quantity: 'electrodeExtension', value: extension?.declared ?? null, why: why('declared'),
      origin: { formula: origin.extensionDeclared, inputs: [...verdict('procedure'), ...verdict('trade')], source: origin.extensionSource },
    },
    {
      key: `arc${arc.arc}.extension.ratioToDiameter`, label: name.extensionRatio, part: true, of, quantity: 'ratio', value: extension?.ratioToDiameter ?? null, why: why('ratioToDiameter'),
      origin: { formula: origin.extensionRatio, inputs: [declared], source: origin.extensionSource },
    },
    {
      key: `arc${arc.arc}.extension.driftEstimate`, label: name.extensionChange, of, quantity: 'extensionChange', value: extension?.driftEstimate ?? null, why: why('driftEstimate'),
      origin: { formula: origin.extensionChange, inputs: [declared, ...means], source: origin.extensionChangeSource },
    },
  ];
}
