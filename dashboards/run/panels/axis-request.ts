import type { Run } from '../../../shared/api-types/run.js';
import type { Trace } from '../../../shared/api-types/trace.js';
import { circumferenceOf } from '../../../shared/weld/procedure/seam-degrees.js';
import type { RunView } from '../run-view.js';

type Round = Pick<Run, 'assignment'>;

/** The part of a view as the service is asked for it, which knows mm and no degrees. */
export function requestedPart({ assignment }: Round, { axis, from, to }: Pick<RunView, 'axis' | 'from' | 'to'>): { readonly axis: Trace['axis']; readonly from: number | null; readonly to: number | null } {
  if (axis !== 'degrees') return { axis, from, to };
  const turn = circumferenceOf(assignment) ?? 360;
  const length = (degrees: number | null): number | null => (degrees === null ? null : (degrees / 360) * turn);
  return { axis: 'travelled', from: length(from), to: length(to) };
}

/** A trace over the axis of the view: its places in degrees where the view is. */
export function overAxis(trace: Trace, { axis }: Pick<RunView, 'axis'>): Trace {
  if (axis !== 'degrees') return trace;
  return {
    ...trace,
    arcs: trace.arcs.map((own) => ({ ...own, at: own.degrees ?? own.at })),
    ...(trace.judged === undefined ? {} : { judged: trace.judged.map((own) => ({ ...own, at: own.degrees ?? own.at })) }),
  };
}
