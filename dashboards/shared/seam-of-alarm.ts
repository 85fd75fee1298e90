import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Carriage } from '../../shared/api-types/carriage.js';

/** The seam that the alarm's place lies on, where it is that of the run being welded; else it is not known here. */
export function seamOfAlarm({ run, assignment }: Pick<Carriage, 'run' | 'assignment'>, alarm: Alarm): string | null {
  return alarm.run !== null && alarm.run === run ? (assignment?.seam ?? null) : null;
}
