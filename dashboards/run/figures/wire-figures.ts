import type { Run } from '../../../shared/api-types/run.js';
import { whyAbsent } from './absent-text.js';
import type { Figure } from './figure.js';
import { figureWords } from './figure-words.js';

type Arc = Run['arcs'][number];

/** Current density of an arc, and its electrode extension: as it was declared, and by how much it seems to have changed. */
export function wireFigures(arc: Arc): readonly Figure[] {
  const name = figureWords();
  const { extension } = arc;
  const of = name.arcLabel(arc.arc);
  const key = (figure: string): string => `arcs.${arc.arc}.${figure}`;
  const why = (field: string): Figure['why'] => whyAbsent(arc, `extension.${field}`) ?? whyAbsent(arc, 'extension');
  return [
    { key: key('currentDensity'), label: name.currentDensity, of, quantity: 'currentDensity', value: arc.currentDensity, why: whyAbsent(arc, 'currentDensity') },
    { key: key('extension.declared'), label: name.electrodeExtension, of, quantity: 'electrodeExtension', value: extension?.declared ?? null, why: why('declared') },
    { key: key('extension.ratioToDiameter'), label: name.extensionRatio, part: true, of, quantity: 'ratio', value: extension?.ratioToDiameter ?? null, why: why('ratioToDiameter') },
    { key: key('extension.driftEstimate'), label: name.extensionChange, of, quantity: 'extensionChange', value: extension?.driftEstimate ?? null, why: why('driftEstimate') },
  ];
}
