import { workDiameter } from './declared-inputs.js';
import { fromFigure, type FigureDefinition } from './figure-definition.js';

const diameter = workDiameter('workDiameter');

/** Degrees beside a place or a length in mm. */
function degrees(name: string, of: string): FigureDefinition {
  return { name, unit: '°', formula: '360 * travelled / (pi * workDiameter)', inputs: [fromFigure('travelled', of), diameter], method: 'degrees', source: 'geometry', grade: 'X', absentAs: 'degrees' };
}

/** Of circumferential seams. */
export const circumferenceDefinitions: readonly FigureDefinition[] = [
  { name: 'circumference.diameter', unit: 'mm', formula: 'workDiameter', inputs: [diameter], method: 'workDiameter', source: 'declared', grade: 'X' },
  { name: 'circumference.degrees', unit: '°', formula: '360 * length / (pi * workDiameter)', inputs: [fromFigure('length', 'length'), diameter], method: 'degrees', source: 'geometry', grade: 'X' },
  { name: 'circumference.turns', unit: '', formula: 'degrees / 360', inputs: [fromFigure('degrees', 'circumference.degrees')], method: 'turns', source: 'geometry', grade: 'X' },
  {
    name: 'circumference.overlap', unit: 'mm', formula: 'max(0, length - pi * workDiameter)', inputs: [fromFigure('length', 'length'), diameter], method: 'circumferenceOverlap', source: 'geometry', grade: 'X',
  },
  degrees('degrees', 'travelled'),
  degrees('restarts.N.stoppedDegrees', 'restarts.N.stoppedTravelled'),
  degrees('restarts.N.restartedDegrees', 'restarts.N.restartedTravelled'),
  degrees('dataGaps.N.fromDegrees', 'dataGaps.N.fromTravelled'),
  degrees('dataGaps.N.toDegrees', 'dataGaps.N.toTravelled'),
];
