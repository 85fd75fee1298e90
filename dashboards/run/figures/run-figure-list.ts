import type { Run } from '../../../shared/api-types/run.js';
import { whyAbsent } from './absent-text.js';
import { consumableFigures } from './consumable-figures.js';
import type { Figure, FigureGroup } from './figure.js';
import { figureWords } from './figure-words.js';

/** The figures of the whole run in the order in which they are read. */
export function runFigureGroups(run: Run): readonly FigureGroup[] {
  const name = figureWords();
  return [
    { heading: name.ofWeldZone, figures: weldZone(run) },
    { heading: name.ofRun(), figures: wholeRun(run) },
    { heading: name.ofLength, figures: lengthFigures(run) },
    { heading: name.ofConsumables, figures: consumableFigures(run) },
  ];
}

function wholeRun(run: Run): Figure[] {
  const name = figureWords();
  const speed = run.travelSpeed;
  const ofSpeed = (key: 'mean' | 'min' | 'max' | 'standardDeviation', label: string): Figure => ({
    key: `travelSpeed.${key}`, label, ...(key === 'mean' ? {} : { part: true, of: name.travelSpeed }), quantity: key === 'standardDeviation' ? 'travelSpeedDeviation' : 'travelSpeed',
    value: speed?.[key] ?? null, why: whyAbsent(run, 'travelSpeed'),
  });
  return [
    { key: 'heatInput', label: name.heatInput, quantity: 'heatInput', value: run.heatInput, why: whyAbsent(run, 'heatInput') },
    { key: 'arcEnergy', label: name.arcEnergy, quantity: 'arcEnergy', value: run.arcEnergy, why: whyAbsent(run, 'arcEnergy') },
    { key: 'thermalEfficiency', label: name.thermalEfficiency, quantity: 'share', value: run.thermalEfficiency },
    { key: 'energy', label: name.energy, quantity: 'energy', value: run.energy, why: whyAbsent(run, 'energy') },
    { key: 'arcTime', label: name.arcTime, quantity: 'time', value: run.arcTime, why: whyAbsent(run, 'arcTime') },
    { key: 'duration', label: name.duration, quantity: 'time', value: run.duration, why: whyAbsent(run, 'duration') },
    { key: 'travelled', label: name.travelled, quantity: 'travelled', value: run.travelled, why: whyAbsent(run, 'travelled') },
    ...(run.circumference === null ? [] : [
      { key: 'circumference.degrees', label: name.circumference, quantity: 'degrees' as const, value: run.circumference.degrees },
      { key: 'circumference.overlap', label: name.beyondTurn, quantity: 'fineLength' as const, value: run.circumference.overlap },
    ]),
    ofSpeed('mean', name.mean(name.travelSpeed)),
    ofSpeed('min', name.least),
    ofSpeed('max', name.greatest),
    ofSpeed('standardDeviation', name.deviation),
  ];
}

function lengthFigures(run: Run): Figure[] {
  const { lengths, length } = run;
  const name = figureWords();
  const parts = ['inside', 'outside', 'notProven', 'excluded'] as const;
  return [
    ...parts.map((part): Figure => ({ key: `lengths.${part}`, label: name[part], quantity: 'fineLength', value: lengths?.[part] ?? null, why: whyAbsent(run, 'lengths') })),
    { key: 'length', label: name.length, quantity: 'fineLength', value: length, why: whyAbsent(run, 'length') },
  ];
}

function weldZone(run: Run): Figure[] {
  const { weldZone: zone } = run;
  const name = figureWords();
  const of = name.inWeldZone;
  return [
    { key: 'weldZone.heatInput', label: name.certificateFigure, of, quantity: 'heatInput', value: zone.heatInput, why: whyAbsent(run, 'weldZone.heatInput') },
    { key: 'weldZone.length', label: name.length, of, quantity: 'fineLength', value: zone.length, why: whyAbsent(run, 'weldZone.length') },
    { key: 'weldZone.arcTime', label: name.arcTime, of, quantity: 'time', value: zone.arcTime, why: whyAbsent(run, 'weldZone.arcTime') },
    { key: 'weldZone.energy', label: name.energy, of, quantity: 'energy', value: zone.energy, why: whyAbsent(run, 'weldZone.energy') },
    { key: 'weldZone.travelSpeed', label: name.mean(name.travelSpeed), of, quantity: 'travelSpeed', value: zone.travelSpeed, why: whyAbsent(run, 'weldZone.travelSpeed') },
    { key: 't85.value', label: name.t85, of, quantity: 't85', value: run.t85?.value ?? null, why: whyAbsent(run, 't85') },
  ];
}
