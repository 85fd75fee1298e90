import type { Run } from '../../shared/api-types/run.js';
import type { Axis } from './run-view.js';

/** s from the start of the run. */
export function secondsFrom(run: Pick<Run, 'startedAt'>, time: string): number {
  return (Date.parse(time) - Date.parse(run.startedAt)) / 1000;
}

/** mm from the seam's datum of a place that arc 1 reached after `travelled` mm. */
export function seamPositionOf(run: Pick<Run, 'assignment'>, travelled: number): number {
  return (run.assignment?.startOffset ?? 0) + (run.assignment?.direction ?? 1) * travelled;
}

/** A stretch of a run: s from its start, and mm travelled where known. */
export interface Stretch {
  readonly time: readonly [number, number];
  readonly travelled: readonly [number | null, number | null];
}

/** The stretch on an axis, its lower end first; null where its place is not known. */
export function onAxis(run: Pick<Run, 'assignment'>, axis: Axis, { time, travelled }: Stretch): readonly [number, number] | null {
  const [first, last] = axis === 'time' ? time : travelled;
  if (first === null || last === null) return null;
  const [a, b] = axis === 'seamPosition' ? [seamPositionOf(run, first), seamPositionOf(run, last)] : [first, last];
  return [Math.min(a, b), Math.max(a, b)];
}
