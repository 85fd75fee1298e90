import type { Run } from '../../../shared/api-types/run.js';
import { onAxis, secondsFrom } from '../run-places.js';
import type { Axis } from '../run-view.js';

/** A stretch of the axis with its name, drawn behind the lines. */
export interface TraceMark {
  readonly kind: 'gap' | 'restart';
  readonly name: string;
  readonly from: number;
  readonly to: number;
}

/** Data gaps and restarts of a run as they lie on an axis. */
export function traceMarks(run: Pick<Run, 'startedAt' | 'assignment' | 'restarts' | 'dataGaps'>, axis: Axis): TraceMark[] {
  const gaps = run.dataGaps.map((gap, at): TraceMark[] => {
    const from = secondsFrom(run, gap.fromTime);
    const time = [from, gap.toTime === null ? from : secondsFrom(run, gap.toTime)] as const;
    return markOf('gap', `data gap ${at + 1}`, onAxis(run, axis, { time, travelled: [gap.fromTravelled, gap.toTravelled] }));
  });
  const restarts = run.restarts.map((restart, at): TraceMark[] => {
    // Only of arc 1 is it known here where it stands when the carriage has travelled so far.
    if (axis === 'seamPosition' && restart.arc !== 1) return [];
    const time = [secondsFrom(run, restart.stoppedAt), secondsFrom(run, restart.restartedAt)] as const;
    return markOf('restart', `restart ${at + 1}`, onAxis(run, axis, { time, travelled: [restart.stoppedTravelled, restart.restartedTravelled] }));
  });
  return [...gaps, ...restarts].flat();
}

function markOf(kind: TraceMark['kind'], name: string, part: readonly [number, number] | null): TraceMark[] {
  return part === null ? [] : [{ kind, name, from: part[0], to: part[1] }];
}
