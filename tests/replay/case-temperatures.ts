import type { Measurement } from '../../shared/weld/temperatures/measurement.js';
import type { CaseMessage } from './expand-case.js';

/** The name of a run as the pure replay knows it: its place in the list. */
export const runName = (place: number): string => `run ${place}`;

/** The temperatures of a case as they are entered one after the other; those entered at the carriage are for the seam in force, unless they name another or none. */
export function enteredTemperatures(messages: readonly CaseMessage[]): Measurement[] {
  const entered: Measurement[] = [];
  let inForce: string | null = null;
  for (const message of messages) {
    if (message.kind === 'assignment') inForce = typeof message.payload?.['seam'] === 'string' ? message.payload['seam'] : null;
    if (message.kind !== 'temperature') continue;
    const { of, at, kind, value, place = 'ahead', seam = of === null ? inForce : null } = message.temperature;
    entered.push({
      id: `m${entered.length}`, run: of === null ? null : runName(of), kind, value, at: at * 1000, seam, place,
      seamPosition: null, distance: null, instrument: null, by: 'case', reason: null, entered: 0, withdrawn: null,
    });
  }
  return entered;
}
