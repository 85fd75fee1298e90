import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Run } from '../../shared/api-types/run.js';
import { circumferenceOf, degreesAt } from '../../shared/weld/procedure/seam-degrees.js';
import { viewAddress, type Axis } from './run-view.js';

/** s from the start of the run. */
export function secondsFrom(run: Pick<Run, 'startedAt'>, time: string): number {
  return (Date.parse(time) - Date.parse(run.startedAt)) / 1000;
}

/** mm from the seam's datum of a place that an arc reached after the carriage had travelled so far; `offset` is how far it runs behind arc 1. */
export function seamPositionOf(run: Pick<Run, 'assignment'>, travelled: number, offset = 0): number {
  return (run.assignment?.startOffset ?? 0) + (run.assignment?.direction ?? 1) * (travelled - offset);
}

type Ends = readonly [number | null, number | null];

/** A stretch of a run from its first place to its last: s from the run's start, mm travelled, mm from the datum, and degrees of a circumferential seam; null where not known. */
export interface Stretch { readonly time: readonly [number, number]; readonly travelled: Ends; readonly seamPosition: Ends; readonly degrees?: Ends }

/** The stretch between two moments and the places that were reached then. */
export function stretchOf(run: Pick<Run, 'startedAt' | 'assignment'>, times: readonly [string, string | null], travelled: Ends, offset = 0): Stretch {
  const from = secondsFrom(run, times[0]);
  const seam = (place: number | null): number | null => (place === null ? null : seamPositionOf(run, place, offset));
  return { time: [from, times[1] === null ? from : secondsFrom(run, times[1])], travelled, seamPosition: [seam(travelled[0]), seam(travelled[1])], ...inDegrees(run, travelled) };
}

/** Travel in degrees, where the seam is a circumference. */
export function inDegrees({ assignment }: Pick<Run, 'assignment'>, [from, to]: Ends): Pick<Stretch, 'degrees'> {
  const turn = circumferenceOf(assignment);
  return turn === null ? {} : { degrees: [degreesAt(from, turn), degreesAt(to, turn)] };
}

/** The stretch on an axis, its lower end first; null where its place is not known. */
export function onAxis(axis: Axis, stretch: Stretch): readonly [number, number] | null {
  const [first, last] = stretch[axis] ?? [null, null];
  if (first === null || last === null) return null;
  return [Math.min(first, last), Math.max(first, last)];
}

/** How much is shown on each side of a stretch at least: s, mm, or degrees. */
const around: Readonly<Record<Axis, number>> = { time: 5, travelled: 40, seamPosition: 40, degrees: 2 };

/** The part of an axis that shows a stretch with what lies beside it. */
export function partAround(axis: Axis, [from, to]: readonly [number, number]): readonly [number, number] {
  const side = Math.max(around[axis], (to - from) * 0.25);
  return [from - side, to + side];
}

/** The address of an alarm's run, zoomed to the place where its cause began; the whole run if that place is not known. */
export function alarmPlaceAddress(run: string, { travelled }: Pick<Alarm, 'travelled'>): string {
  if (travelled === null) return viewAddress(run, { axis: 'time', from: null, to: null, compared: null });
  const [from, to] = partAround('travelled', [travelled, travelled]);
  return viewAddress(run, { axis: 'travelled', from, to, compared: null });
}
