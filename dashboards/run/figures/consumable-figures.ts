import type { Run } from '../../../shared/api-types/run.js';
import { shown, type ShownQuantity } from '../../shared/units.js';
import { whyAbsent } from './absent-text.js';
import type { Figure, FigureInput } from './figure.js';
import { figureWords } from './figure-words.js';
import { originWords } from './origin-words.js';

/** Wire, weld metal, flux and electricity of a run. */
export function consumableFigures(run: Run): Figure[] {
  const name = figureWords();
  const origin = originWords();
  const { deposit, electricity } = run;
  const of = (key: keyof NonNullable<Run['deposit']>, label: string, quantity: ShownQuantity, formula: string, source: string, inputs: readonly FigureInput[]): Figure => ({
    key: `deposit.${key}`, label, quantity, value: deposit?.[key] ?? null, why: whyAbsent(run, `deposit.${key}`) ?? whyAbsent(run, 'deposit'), origin: { formula, inputs, source },
  });
  const feeds = run.arcs.map((arc): FigureInput => ({ name: name.ofArcNumber(name.mean(name.wireFeedSpeed), arc.arc), text: shown('wireFeedSpeed', arc.wireFeedSpeed?.mean), key: `arc${arc.arc}.wireFeedSpeed.mean` }));
  const times = run.arcs.map((arc): FigureInput => ({ name: name.ofArcNumber(name.arcTime, arc.arc), text: shown('time', arc.arcTime), key: `arc${arc.arc}.arcTime` }));
  const lengths = run.arcs.map((arc): FigureInput => ({ name: name.ofArcNumber(name.length, arc.arc), text: shown('fineLength', arc.length), key: `arc${arc.arc}.length` }));
  const mass: FigureInput = { name: name.weldMetal, text: shown('mass', deposit?.mass), key: 'deposit.mass' };
  const arcTime: FigureInput = { name: name.arcTime, text: shown('time', run.arcTime), key: 'arcTime' };
  return [
    of('wireLength', name.wireFed, 'wireLength', origin.wireFed, origin.ownRule, [...feeds, ...times]),
    of('wireMass', name.wireMelted, 'mass', origin.wireMelted, origin.wireMeltedSource, [{ name: name.wireFed, text: shown('wireLength', deposit?.wireLength), key: 'deposit.wireLength' }]),
    of('mass', name.weldMetal, 'mass', origin.weldMetal, origin.weldMetalSource, [{ name: name.wireMelted, text: shown('mass', deposit?.wireMass), key: 'deposit.wireMass' }]),
    of('rate', name.depositRate, 'depositRate', origin.depositRate, origin.ownRule, [mass, arcTime]),
    of('massPerLength', name.massPerLength, 'massPerLength', origin.massPerLength, origin.ownRule, [mass, ...lengths]),
    of('fluxMass', name.fluxMass, 'mass', origin.fluxMass, origin.fluxMassSource, [mass]),
    { key: 'electricity.energy', label: name.electricEnergy, quantity: 'electricEnergy', value: electricity?.energy ?? null, why: whyAbsent(run, 'electricity'), origin: { formula: origin.electricEnergy, inputs: [{ name: name.energy, text: shown('energy', run.energy), key: 'energy' }], source: origin.energySource } },
    {
      key: 'electricity.duty', label: name.duty, quantity: 'duty', value: electricity?.duty ?? null, why: whyAbsent(run, 'electricity.duty') ?? whyAbsent(run, 'electricity'),
      origin: { formula: origin.duty, inputs: [arcTime, { name: name.duration, text: shown('time', run.duration), key: 'duration' }], source: origin.ownRule },
    },
  ];
}
