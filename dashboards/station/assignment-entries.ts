import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import { unitSystem } from '../shared/choices.js';
import { shown } from '../shared/units.js';
import { wordsOf } from '../shared/words.js';
import { stationWords } from './station-words.js';

/** An assignment as names and values, for the person who sets up the carriage. */
export function assignmentEntries(assignment: AssignmentAnswer): readonly (readonly [string, string])[] {
  const say = wordsOf(stationWords);
  const length = (value: number | undefined): string | undefined => (value === undefined ? undefined : shown('length', value));
  const wires = (assignment.arcs ?? []).flatMap(({ arc, wireDiameter, wireLot }) => {
    const words = [wireDiameter === undefined ? null : shown('wireDiameter', wireDiameter), wireLot ?? null].filter((word) => word !== null);
    return words.length === 0 ? [] : [say.wireOf(arc, words.join(', ')).replaceAll(' ', '\u00a0')];
  });
  const entries: readonly (readonly [string, string | undefined])[] = [
    [say.seam, assignment.seam],
    [unitSystem.value === 'us' ? say.pass : say.run, String(assignment.run)],
    [say.procedure, assignment.procedure],
    [say.length, length(assignment.seamLength)],
    [say.thickness, assignment.thickness === undefined ? undefined : shown('wireDiameter', assignment.thickness)],
    [say.sideLabel, assignment.side === undefined ? undefined : String(assignment.side)],
    [say.datum, assignment.datum],
    [say.startOffset, length(assignment.startOffset)],
    [say.wire, wires.length === 0 ? undefined : wires.join('; ')],
    [say.fluxLot, assignment.fluxLot],
    [say.operator, assignment.operator],
  ];
  return entries.flatMap(([name, value]) => (value === undefined ? [] : [[name, value] as const]));
}
