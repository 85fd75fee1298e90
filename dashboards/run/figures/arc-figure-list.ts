import type { Run } from '../../../shared/api-types/run.js';
import { spreadNames, type SpreadName } from '../../../shared/weld/quantities.js';
import type { ShownQuantity } from '../../shared/units.js';
import { whyAbsent } from './absent-text.js';
import { alternatingFigures } from './alternating-figures.js';
import type { Figure } from './figure.js';
import { figureWords } from './figure-words.js';
import { wireFigures } from './wire-figures.js';

type Arc = Run['arcs'][number];
type Single = 'energy' | 'arcTime' | 'length' | 'extinctions' | 'shortCircuits' | 'samples' | 'currentVariation' | 'voltageVariation';
type OfWeldZone = NonNullable<Run['weldZone']['arcs']>[number];
type Spread = 'current' | 'voltage' | SpreadName;

/** The figures of each arc in the order in which they are read; the same for every arc. */
export function arcFigures(run: Run): readonly (readonly Figure[])[] {
  const all = run.arcs.map((arc) => figuresOf(arc, run.weldZone.arcs?.find((own) => own.arc === arc.arc)));
  const rows = new Set(all.flatMap((figures) => figures.flatMap((own, row) => (isOfArc(own) ? [row] : []))));
  return all.map((figures) => figures.filter((_, row) => rows.has(row)));
}

/** Whether an arc has the figure, or misses it; direct current has no balance to miss. */
export function isOfArc({ ofSome, value, why }: Figure): boolean {
  return ofSome !== true || value !== null || why !== undefined;
}

function figuresOf(arc: Arc, zone: OfWeldZone | undefined): readonly Figure[] {
  const name = figureWords();
  const one = (key: Single, label: string, quantity: ShownQuantity): Figure => ({ key: keyOf(arc, key), label, of: name.arcLabel(arc.arc), quantity, value: arc[key], why: whyAbsent(arc, key) });
  return [
    ...spreadFigures(arc, 'current', zone),
    one('currentVariation', name.currentVariation, 'currentVariation'),
    ...spreadFigures(arc, 'voltage', zone),
    one('voltageVariation', name.voltageVariation, 'voltageVariation'),
    ...rawFigures(arc),
    ...alternatingFigures(arc),
    ...spreadNames.flatMap((name) => spreadFigures(arc, name, zone)),
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

function spreadFigures(arc: Arc, of: Spread, zone: OfWeldZone | undefined): Figure[] {
  const name = figureWords();
  const spread = arc[of];
  const one = (key: string, label: string, quantity: ShownQuantity, value: number | null | undefined): Figure => ({
    key: keyOf(arc, `${of}.${key}`), label, part: key !== 'mean', of: key === 'mean' ? name.arcLabel(arc.arc) : name.ofArcNumber(name[of], arc.arc), quantity, value: value ?? null, why: whyAbsent(arc, of),
  });
  return [
    one('mean', name.mean(name[of]), of, spread?.mean),
    { key: `weldZone.${keyOf(arc, of)}`, label: name.meanOfWeldZone, part: true, ofSome: true, of: name.ofArcNumber(name[of], arc.arc), quantity: of, value: zone?.[of] ?? null },
    one('min', name.least, of, spread?.min),
    one('max', name.greatest, of, spread?.max),
    ...(of === 'current' || of === 'voltage' ? [one('rms', name.rms, of, arc[of]?.rms)] : []),
    one('standardDeviation', name.deviation, `${of}Deviation`, spread?.standardDeviation),
  ];
}

/** The voltage before the drop in the cables was taken off; that nothing was taken off is no reason to miss it. */
function rawFigures(arc: Arc): Figure[] {
  const name = figureWords();
  const one = (key: keyof NonNullable<Arc['voltageRaw']>, label: string): Figure => ({
    key: keyOf(arc, `voltageRaw.${key}`), label, part: key !== 'mean', ofSome: true, of: key === 'mean' ? name.arcLabel(arc.arc) : name.ofArcNumber(name.voltageRaw, arc.arc),
    quantity: key === 'standardDeviation' ? 'voltageDeviation' : 'voltage', value: arc.voltageRaw?.[key] ?? null,
  });
  return [one('mean', name.mean(name.voltageRaw)), one('min', name.least), one('max', name.greatest), one('rms', name.rms), one('standardDeviation', name.deviation)];
}
