import type { Run } from '../../../shared/api-types/run.js';
import { formatDateTime } from '../../shared/times.js';
import { shown } from '../../shared/units.js';
import { whyAbsent } from './absent-text.js';
import { consumableFigures } from './consumable-figures.js';
import type { Figure, FigureGroup, FigureInput, FigureOrigin } from './figure.js';
import { figureWords } from './figure-words.js';
import { originWords } from './origin-words.js';

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
  const origin = originWords();
  const speed = run.travelSpeed;
  const efficiency: FigureInput = { name: `k, ${name.thermalEfficiency}`, text: shown('share', run.thermalEfficiency), key: 'thermalEfficiency' };
  const ownArcs = (parts: readonly ('energy' | 'length' | 'arcTime')[]): FigureInput[] =>
    run.arcs.flatMap((arc) =>
      parts.map((part) => ({ name: name.ofArcNumber(name[part], arc.arc), text: shown(part === 'length' ? 'fineLength' : part === 'energy' ? 'energy' : 'time', arc[part]), key: `arc${arc.arc}.${part}` })),
    );
  const ofSpeed = (key: 'mean' | 'min' | 'max' | 'standardDeviation', label: string, formula: string): Figure => ({
    key: `travelSpeed.${key}`, label, part: key !== 'mean', of: name.travelSpeed, quantity: key === 'standardDeviation' ? 'travelSpeedDeviation' : 'travelSpeed',
    value: speed?.[key] ?? null, why: whyAbsent(run, 'travelSpeed'),
    origin: { formula, inputs: key === 'standardDeviation' ? [{ name: name.mean(name.travelSpeed), text: shown('travelSpeed', speed?.mean), key: 'travelSpeed.mean' }] : [], source: origin.weightedSource },
  });
  return [
    { key: 'heatInput', label: name.heatInput, quantity: 'heatInput', value: run.heatInput, why: whyAbsent(run, 'heatInput'), origin: { formula: origin.heatInput, inputs: [efficiency, { name: `EA, ${name.arcEnergy}`, text: shown('arcEnergy', run.arcEnergy), key: 'arcEnergy' }], source: origin.heatInputSource } },
    { key: 'arcEnergy', label: name.arcEnergy, quantity: 'arcEnergy', value: run.arcEnergy, why: whyAbsent(run, 'arcEnergy'), origin: { formula: origin.arcEnergy, inputs: ownArcs(['energy', 'length']), source: origin.arcEnergySource() } },
    { key: 'thermalEfficiency', label: name.thermalEfficiency, quantity: 'share', value: run.thermalEfficiency, origin: { formula: origin.thermalEfficiency, inputs: [], source: origin.thermalEfficiencySource } },
    { key: 'energy', label: name.energy, quantity: 'energy', value: run.energy, why: whyAbsent(run, 'energy'), origin: { formula: origin.energy, inputs: ownArcs(['energy']), source: origin.energySource } },
    { key: 'arcTime', label: name.arcTime, quantity: 'time', value: run.arcTime, why: whyAbsent(run, 'arcTime'), origin: { formula: origin.arcTime, inputs: ownArcs(['arcTime']), source: origin.arcOnSource } },
    { key: 'duration', label: name.duration, quantity: 'time', value: run.duration, why: whyAbsent(run, 'duration'), origin: { formula: origin.duration, inputs: [{ name: name.started, text: formatDateTime(run.startedAt) }, { name: name.ended, text: formatDateTime(run.endedAt) }], source: origin.arcOnSource } },
    { key: 'travelled', label: name.travelled, quantity: 'travelled', value: run.travelled, why: whyAbsent(run, 'travelled'), origin: { formula: origin.travelled(), inputs: [], source: origin.lengthSource } },
    ...(run.circumference === null ? [] : [
      { key: 'circumference.degrees', label: name.circumference, quantity: 'degrees' as const, value: run.circumference.degrees, origin: { formula: origin.circumference, inputs: [{ name: name.length, text: shown('fineLength', run.length) }, { name: name.diameter, text: shown('fineLength', run.circumference.diameter) }], source: origin.circumferenceSource } },
      { key: 'circumference.overlap', label: name.beyondTurn, quantity: 'fineLength' as const, value: run.circumference.overlap, origin: { formula: origin.beyondTurn, inputs: [{ name: name.length, text: shown('fineLength', run.length) }, { name: name.diameter, text: shown('fineLength', run.circumference.diameter) }], source: origin.circumferenceSource } },
    ]),
    ofSpeed('mean', name.mean(name.travelSpeed), origin.mean),
    ofSpeed('min', name.least, origin.least),
    ofSpeed('max', name.greatest, origin.greatest),
    ofSpeed('standardDeviation', name.deviation, origin.deviation),
  ];
}

function lengthFigures(run: Run): Figure[] {
  const { lengths, length } = run;
  const name = figureWords();
  const origin = originWords();
  const parts = ['inside', 'outside', 'notProven', 'excluded'] as const;
  return [
    ...parts.map((part): Figure => ({
      key: `lengths.${part}`, label: name[part], quantity: 'fineLength', value: lengths?.[part] ?? null, why: whyAbsent(run, 'lengths'),
      origin: { formula: origin[part], inputs: [{ name: name.length, text: shown('fineLength', length), key: 'length' }], source: origin.lengthsSource },
    })),
    {
      key: 'length', label: name.length, quantity: 'fineLength', value: length, why: whyAbsent(run, 'length'),
      origin: { formula: origin.length, inputs: parts.map((part) => ({ name: name[part], text: shown('fineLength', lengths?.[part]), key: `lengths.${part}` })), source: origin.lengthSource },
    },
  ];
}

function weldZone(run: Run): Figure[] {
  const { weldZone: zone, thermalEfficiency } = run;
  const name = figureWords();
  const origin = originWords();
  const from = (formula: string, inputs: readonly FigureInput[] = []): FigureOrigin => ({ formula, inputs, source: origin.zoneSource });
  const of = name.inWeldZone;
  const inputs: FigureInput[] = [
    { name: `k, ${name.thermalEfficiency}`, text: shown('share', thermalEfficiency), key: 'thermalEfficiency' },
    { name: name.energy, text: shown('energy', zone.energy), key: 'weldZone.energy' },
    { name: name.length, text: shown('fineLength', zone.length), key: 'weldZone.length' },
  ];
  return [
    { key: 'weldZone.heatInput', label: name.certificateFigure, of, quantity: 'heatInput', value: zone.heatInput, why: whyAbsent(run, 'weldZone.heatInput'), origin: from(origin.weldHeatInput, inputs) },
    { key: 'weldZone.length', label: name.length, of, quantity: 'fineLength', value: zone.length, why: whyAbsent(run, 'weldZone.length'), origin: from(origin.weldLength) },
    { key: 'weldZone.arcTime', label: name.arcTime, of, quantity: 'time', value: zone.arcTime, why: whyAbsent(run, 'weldZone.arcTime'), origin: from(origin.weldArcTime) },
    { key: 'weldZone.energy', label: name.energy, of, quantity: 'energy', value: zone.energy, why: whyAbsent(run, 'weldZone.energy'), origin: from(origin.weldEnergy) },
    coolingTime(run),
  ];
}

function coolingTime(run: Run): Figure {
  const { t85 } = run;
  const name = figureWords();
  const origin = originWords();
  const inputs: FigureInput[] = t85 === null ? [] : [
    { name: `Q, ${name.heatInput}`, text: shown('heatInput', t85.heatInput), key: 'weldZone.heatInput' },
    { name: `d, ${name.thickness}`, text: shown('fineLength', t85.thickness) },
    { name: `T0, ${{ preheat: name.startPreheat, interpass: name.startInterpass, declared: name.startDeclared }[t85.temperatureFrom]}`, text: shown('temperature', t85.temperature) },
    { name: name.shapeFactors, text: `${t85.f2} / ${t85.f3}` },
    { name: name.transitionThickness, text: shown('fineLength', t85.transitionThickness) },
  ];
  const formula = t85 === null ? `${origin.flatCooling}; ${origin.deepCooling}` : t85.form === 'two-dimensional' ? origin.flatCooling : origin.deepCooling;
  return { key: 't85', label: name.t85, of: name.inWeldZone, quantity: 't85', value: t85?.value ?? null, why: whyAbsent(run, 't85'), origin: { formula, inputs, source: origin.coolingSource } };
}
