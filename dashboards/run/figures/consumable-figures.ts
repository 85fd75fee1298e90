import type { Run } from '../../../shared/api-types/run.js';
import type { ShownQuantity } from '../../shared/units.js';
import { whyAbsent } from './absent-text.js';
import type { Figure } from './figure.js';
import { figureWords } from './figure-words.js';

/** Wire, weld metal, flux and electricity of a run. */
export function consumableFigures(run: Run): Figure[] {
  const name = figureWords();
  const { deposit, electricity } = run;
  const of = (key: keyof NonNullable<Run['deposit']>, label: string, quantity: ShownQuantity): Figure => ({
    key: `deposit.${key}`, label, quantity, value: deposit?.[key] ?? null, why: whyAbsent(run, `deposit.${key}`) ?? whyAbsent(run, 'deposit'),
  });
  return [
    of('wireLength', name.wireFed, 'wireLength'),
    of('wireMass', name.wireMelted, 'mass'),
    of('mass', name.weldMetal, 'mass'),
    of('rate', name.depositRate, 'depositRate'),
    of('massPerLength', name.massPerLength, 'massPerLength'),
    of('fluxMass', name.fluxMass, 'mass'),
    { key: 'electricity.energy', label: name.electricEnergy, quantity: 'electricEnergy', value: electricity?.energy ?? null, why: whyAbsent(run, 'electricity') },
    { key: 'electricity.duty', label: name.duty, quantity: 'duty', value: electricity?.duty ?? null, why: whyAbsent(run, 'electricity.duty') ?? whyAbsent(run, 'electricity') },
  ];
}
