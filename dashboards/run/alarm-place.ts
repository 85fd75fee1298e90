import type { Alarm } from '../../shared/api-types/alarm.js';
import { partAround } from './run-places.js';
import { viewAddress } from './run-view.js';

/** The address of the run of an alarm, at the place where what raised it began, with what lies beside it; the whole run where its place is not known. */
export function alarmPlaceAddress(run: string, { travelled }: Pick<Alarm, 'travelled'>): string {
  if (travelled === null) return viewAddress(run, { axis: 'time', from: null, to: null, compared: null });
  const [from, to] = partAround('travelled', [travelled, travelled]);
  return viewAddress(run, { axis: 'travelled', from, to, compared: null });
}
