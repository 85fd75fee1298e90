import { quantities } from '../quantities.js';
import { electrodeExtension, fluxRatio, isAlternating, recovery, wireDiameter, wires } from './declared-inputs.js';
import { fromFigure, type FigureDefinition, type InputDefinition } from './figure-definition.js';
import type { FiguredRun } from './figured-run.js';
import { everyArc, travelledArcs } from './run-definitions.js';

/** The run with the arcs that fed: one that was lit but has no arc time, as just before a data gap, fed nothing and has no mean feed. */
const ofFed = (run: FiguredRun): FiguredRun => ({ ...run, arcs: run.arcs.filter(({ arcTime }) => arcTime !== 0) });
const fedArcs = (run: FiguredRun): number[] => everyArc(ofFed(run));
const fedTravelledArcs = (run: FiguredRun): number[] => travelledArcs(ofFed(run));

/** Where the feed of every arc is known in all of its arc time, which wire length demands, ∫ feed is its mean × arc time: m of each wire. */
const wireLength = 'feedN * arcTimeN / 60';
/** Density of unalloyed steel, 7850 kg/m³; m · mm² are 10⁻⁶ m³. */
const wireMass = `${wireLength} * pi / 4 * diameterN^2 * 7850 / 1000000 * wiresN`;

const fed: readonly InputDefinition[] = [fromFigure('feedN', 'arcs.N.wireFeedSpeed.mean'), fromFigure('arcTimeN', 'arcs.N.arcTime')];
const melted: readonly InputDefinition[] = [...fed, wireDiameter('diameterN'), wires('wiresN')];
const deposited: readonly InputDefinition[] = [...melted, recovery('recoveryN')];

/** Wire and flux that were used, and electricity. */
export const depositDefinitions: readonly FigureDefinition[] = [
  { name: 'deposit.wireLength', unit: 'm', formula: { sum: wireLength, arcs: fedArcs }, inputs: fed, method: 'wireLength', source: 'geometry', grade: 'X' },
  { name: 'deposit.wireMass', unit: 'kg', formula: { sum: wireMass, arcs: fedArcs }, inputs: melted, method: 'wireMass', source: 'geometry', grade: 'X' },
  { name: 'deposit.mass', unit: 'kg', formula: { sum: `${wireMass} * recoveryN`, arcs: fedArcs }, inputs: deposited, method: 'weldMetal', source: 'weldMetal', grade: 'P' },
  { name: 'deposit.rate', unit: 'kg/h', formula: 'mass / arcTime * 3600', inputs: [fromFigure('mass', 'deposit.mass'), fromFigure('arcTime', 'arcTime')], method: 'depositionRate', source: 'ratio', grade: 'X' },
  {
    name: 'deposit.massPerLength', unit: 'kg/m', formula: { sum: `${wireMass} * recoveryN / lengthN * 1000`, arcs: fedTravelledArcs }, inputs: [...deposited, fromFigure('lengthN', 'arcs.N.length')],
    method: 'massPerLength', source: 'ratio', grade: 'X',
  },
  { name: 'deposit.fluxMass', unit: 'kg', formula: 'mass * fluxRatio', inputs: [fromFigure('mass', 'deposit.mass'), fluxRatio('fluxRatio')], method: 'fluxMass', source: 'fluxMass', grade: 'P' },
  { name: 'electricity.energy', unit: 'kWh', formula: 'energy / 3600', inputs: [fromFigure('energy', 'energy')], method: 'electricity', source: 'units', grade: 'X' },
  { name: 'electricity.duty', unit: '', formula: 'arcTime / duration', inputs: [fromFigure('arcTime', 'arcTime'), fromFigure('duration', 'duration')], method: 'duty', source: 'ratio', grade: 'X' },
];

const density = 'abs(current) / (pi / 4 * diameter^2 * wires)';
const densityByRms = 'currentRms / (pi / 4 * diameter^2 * wires)';

/** lb/min of one wire that its feed melts; 1 lb is 0.45359237 kg. */
const meltedRate = 'pi / 4 * diameter^2 * feed * 7850 / 1000000 / 0.45359237';
/** lb/min of one wire by Wilson, Claussen and Jackson, with diameter and extension in inch; from memory. */
const meltingRate = 'current / wires / 1000 * (0.35 + (diameter / 25.4)^2 + 0.000000208 * (current / wires * electrodeExtension / 25.4 / (diameter / 25.4)^2)^1.22)';

/** Of each arc: current density and electrode extension. */
export const wireDefinitions: readonly FigureDefinition[] = [
  {
    name: 'arcs.N.currentDensity', unit: 'A/mm²', formula: { forms: [density, densityByRms], choose: (place) => (isAlternating(place) ? densityByRms : density) },
    inputs: [fromFigure('current', 'arcs.N.current.mean'), fromFigure('currentRms', 'arcs.N.current.rms'), wireDiameter('diameter'), wires('wires')], method: 'currentDensity', source: 'currentDensity', grade: 'P',
  },
  { name: 'arcs.N.extension.declared', unit: 'mm', formula: 'electrodeExtension', inputs: [electrodeExtension('electrodeExtension')], method: 'extension', source: 'declared', grade: 'X' },
  {
    name: 'arcs.N.extension.ratioToDiameter', unit: '', formula: 'electrodeExtension / diameter', inputs: [electrodeExtension('electrodeExtension'), wireDiameter('diameter')],
    method: 'extensionRatio', source: 'extension', grade: 'C',
  },
  {
    // Without drift it is the difference of two equal numbers, so no formula would give its digits.
    name: 'arcs.N.extension.driftEstimate', unit: 'mm', formula: null,
    inputs: [
      electrodeExtension('electrodeExtension'), wireDiameter('diameter'), wires('wires'), fromFigure('factor', 'arcs.N.extension.estimatedFrom.factor'),
      fromFigure('current', 'arcs.N.extension.estimatedFrom.last.current'), fromFigure('feed', 'arcs.N.extension.estimatedFrom.last.wireFeedSpeed'),
    ],
    method: 'extensionDrift', source: 'meltingRate', grade: 'M',
  },
  {
    name: 'arcs.N.extension.estimatedFrom.factor', unit: '', formula: `${meltedRate} / (${meltingRate})`,
    inputs: [
      fromFigure('current', 'arcs.N.extension.estimatedFrom.first.current'), fromFigure('feed', 'arcs.N.extension.estimatedFrom.first.wireFeedSpeed'),
      electrodeExtension('electrodeExtension'), wireDiameter('diameter'), wires('wires'),
    ],
    method: 'meltingFactor', source: 'meltingRate', grade: 'M',
  },
  ...(['first', 'last'] as const).flatMap((end) => (['current', 'wireFeedSpeed'] as const).map((of): FigureDefinition => ({
    name: `arcs.N.extension.estimatedFrom.${end}.${of}`, unit: quantities[of].unit, formula: null, inputs: [], method: 'endMean', source: 'weighted', grade: 'X',
  }))),
];
