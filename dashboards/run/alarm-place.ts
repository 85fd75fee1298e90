import type { Alarm } from '../../shared/api-types/alarm.js';
import { partAround } from './run-places.js';
import { viewAddress } from './run-view.js';

/** The address of an alarm's run, zoomed to the place where its cause began; the whole run if that place is not known. */
export function alarmPlaceAddress(run: string, { travelled }: Pick<Alarm, 'travelled'>): string {
  if (travelled === null) return viewAddress(run, { axis: 'time', from: null, to: null, compared: null });
  const [from, to] = partAround('travelled', [travelled, travelled]);
  return viewAddress(run, { axis: 'travelled', from, to, compared: null });
}
