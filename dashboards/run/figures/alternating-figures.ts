import type { Run } from '../../../shared/api-types/run.js';
import type { ShownQuantity } from '../../shared/units.js';
import { whyAbsent, type Why } from './absent-text.js';
import type { Figure } from './figure.js';
import { figureWords } from './figure-words.js';

type Arc = Run['arcs'][number];

/** Figures of alternating current, and the ripple of direct current: each is missed only where the arc is of its kind. */
export function alternatingFigures(arc: Arc): Figure[] {
  const name = figureWords();
  const of = name.arcLabel(arc.arc);
  const { ac } = arc;
  const one = (key: keyof NonNullable<Arc['ac']>, label: string, quantity: ShownQuantity): Figure => ({
    key: `arcs.${arc.arc}.ac.${key}`, label, ofSome: true, of, quantity, value: ac?.[key] ?? null, why: ac === null ? undefined : whyAbsent(arc, `ac.${key}`),
  });
  return [
    one('currentRms', name.acCurrent, 'current'),
    one('voltageRms', name.acVoltage, 'voltage'),
    one('balance', name.acBalance, 'balance'),
    one('currentOffset', name.acOffset, 'currentDeviation'),
    one('powerFactor', name.powerFactor, 'powerFactor'),
    { key: `arcs.${arc.arc}.ripple`, label: name.ripple, ofSome: true, of, quantity: 'ripple', value: arc.ripple, why: ac === null ? ofDirectCurrent(whyAbsent(arc, 'ripple')) : undefined },
  ];
}

/** That an arc was on for an instant is told with its current. */
function ofDirectCurrent(why: Why | undefined): Why | undefined {
  return typeof why === 'object' && (why.code === 'instant' || why.code === 'noMean') ? undefined : why;
}
