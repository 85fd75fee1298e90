import type { AlarmMark } from '../marks/alarm-marks.js';
import type { RunMark } from '../marks/run-marks.js';
import { onAxis } from '../run-places.js';
import type { Axis } from '../run-view.js';
import type { Measure } from './trace-lines.js';

/** A mark with its stretch on an axis, s or mm, the lower end first. */
export interface PlacedMark {
  readonly mark: RunMark;
  /** Its number in the list of all marks. */
  readonly number: number;
  readonly from: number;
  readonly to: number;
}

/** An alarm on an axis: where it was raised and, over time, where it was acknowledged. */
export type PlacedAlarm = Omit<AlarmMark, 'raised' | 'place'> & { readonly at: number };

/** The marks whose places are known on an axis, in the order of the axis: a run may go towards the datum. */
export function placedMarks(marks: readonly RunMark[], axis: Axis): PlacedMark[] {
  const placed = marks.flatMap((mark, number) => {
    const part = onAxis(axis, mark.stretch);
    return part === null ? [] : [{ mark, number, from: part[0], to: part[1] }];
  });
  return placed.sort((a, b) => a.from - b.from);
}

export function placedAlarms(alarms: readonly AlarmMark[], axis: Axis): PlacedAlarm[] {
  return alarms.flatMap(({ raised, place, ...own }) => {
    const at = axis === 'time' ? raised : (place[axis] ?? null);
    return at === null ? [] : [{ ...own, at, acknowledged: axis === 'time' ? own.acknowledged : null }];
  });
}

/** Whether a trace shows the mark: zones, restarts and gaps concern all of them, an excursion the trace of its quantity alone. */
export function showsIn(measure: Measure, mark: RunMark): boolean {
  return mark.kind !== 'excursion' || quantityShownIn(mark.excursion.quantity) === measure;
}

/** The trace that shows the quantity of an excursion or alarm. The mean of the weld zone has no value at a place. */
export function quantityShownIn(quantity: string): string {
  return quantity === 'travelStopped' ? 'travelSpeed' : quantity === 'polarity' ? 'current' : quantity;
}

/** The stretches in which a trace's quantity is judged; the whole axis where no zones are known. */
export function judgedStretches(marks: readonly PlacedMark[], measure: Measure): readonly (readonly [number, number])[] {
  const zones = marks.filter(({ mark }) => mark.kind === 'zone');
  if (zones.length === 0) return [[-Infinity, Infinity]];
  return zones.flatMap(({ mark, from, to }) => (mark.kind === 'zone' && (mark.zone.zone === 'weld' || (mark.zone.unpassed === true && measure !== 'heatInput' && measure !== 't85')) ? [[from, to] as const] : []));
}
