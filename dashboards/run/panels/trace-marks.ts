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

/** The marks whose places are known on an axis, in the order of the axis: a run may go towards the datum. */
export function placedMarks(marks: readonly RunMark[], axis: Axis): PlacedMark[] {
  const placed = marks.flatMap((mark, number) => {
    const part = onAxis(axis, mark.stretch);
    return part === null ? [] : [{ mark, number, from: part[0], to: part[1] }];
  });
  return placed.sort((a, b) => a.from - b.from);
}

/** In which trace an excursion of a quantity is drawn; one of wire feed speed shows in none of them, only among the marks above. */
const traceOf: Readonly<Record<string, Measure>> = {
  current: 'current', currentVariation: 'current', voltage: 'voltage', voltageVariation: 'voltage',
  travelSpeed: 'travelSpeed', heatInput: 'heatInput', meanHeatInput: 'heatInput',
};

/** Whether a trace shows the mark: zones, restarts and gaps concern all of them. */
export function showsIn(measure: Measure, mark: RunMark): boolean {
  return mark.kind !== 'excursion' || traceOf[mark.excursion.quantity] === measure;
}

/** The stretches that are judged by the windows; the whole axis where no zones are known. */
export function judgedStretches(marks: readonly PlacedMark[]): readonly (readonly [number, number])[] {
  const zones = marks.filter(({ mark }) => mark.kind === 'zone');
  if (zones.length === 0) return [[-Infinity, Infinity]];
  return zones.flatMap(({ mark, from, to }) => (mark.kind === 'zone' && mark.zone.zone === 'weld' ? [[from, to] as const] : []));
}
