import { plateTemperature, shapeFactor, thickness } from './declared-inputs.js';
import { fromFigure, type FigureDefinition, type InputDefinition } from './figure-definition.js';
import { partOf } from './figured-run.js';

/** EN 1011-2:2001, annex D: kJ/mm, °C, mm, s. */
const threeDimensional = '(6700 - 5 * T0) * heatInput * (1 / (500 - T0) - 1 / (800 - T0)) * F3';
const twoDimensional = '(4300 - 4.3 * T0) * 100000 * heatInput^2 / thickness^2 * (1 / (500 - T0)^2 - 1 / (800 - T0)^2) * F2';

const inputs: readonly InputDefinition[] = [fromFigure('heatInput', 't85.heatInput'), plateTemperature('T0'), thickness('thickness'), shapeFactor('F2', 'f2'), shapeFactor('F3', 'f3')];

/** Cooling time t8/5, and the values that it was computed with. */
export const coolingDefinitions: readonly FigureDefinition[] = [
  {
    name: 't85.value', unit: 's', formula: { forms: [threeDimensional, twoDimensional], choose: ({ run }) => (partOf(run, 't85.form') === 'two-dimensional' ? twoDimensional : threeDimensional) },
    inputs, method: 't85', source: 'coolingTime', grade: 'P',
  },
  {
    name: 't85.transitionThickness', unit: 'mm', formula: 'sqrt((4300 - 4.3 * T0) / (6700 - 5 * T0) * 100000 * heatInput * (1 / (500 - T0) + 1 / (800 - T0)) * F2 / F3)',
    inputs, method: 'transitionThickness', source: 'transition', grade: 'X',
  },
  { name: 't85.heatInput', unit: 'kJ/mm', formula: 'heatInput', inputs: [fromFigure('heatInput', 'weldZone.heatInput')], method: 'weldZoneHeatInput', source: 'weldHeatInput', grade: 'C' },
  { name: 't85.thickness', unit: 'mm', formula: 'thickness', inputs: [thickness('thickness')], method: 'asDeclared', source: 'declared', grade: 'X' },
  { name: 't85.temperature', unit: '°C', formula: 'T0', inputs: [plateTemperature('T0')], method: 'plateTemperature', source: 'measured', grade: 'C' },
  { name: 't85.f2', unit: '', formula: 'F2', inputs: [shapeFactor('F2', 'f2')], method: 'shapeFactor', source: 'shapeFactors', grade: 'P' },
  { name: 't85.f3', unit: '', formula: 'F3', inputs: [shapeFactor('F3', 'f3')], method: 'shapeFactor', source: 'shapeFactors', grade: 'P' },
];
