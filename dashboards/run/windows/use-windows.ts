import { useMemo } from 'preact/hooks';
import type { Procedure } from '../../../shared/api-types/procedure.js';
import type { Run } from '../../../shared/api-types/run.js';
import { runGroupOf } from '../../../shared/weld/procedure/procedure-parameters.js';
import { fetchProcedureRevision } from '../../shared/api.js';
import { useAnswer } from '../../shared/use-answer.js';

type RunGroup = NonNullable<Procedure['runGroups']>[number];

/** The run group by which a run was judged, or why there is none. */
export type WindowsNow =
  | { readonly is: 'asking' }
  | { readonly is: 'unassigned' | 'notNamed' }
  | { readonly is: 'unknown'; readonly id: string }
  | { readonly is: 'noGroup'; readonly procedure: Procedure }
  | { readonly is: 'failed'; readonly reason: string }
  | { readonly is: 'known'; readonly procedure: Procedure; readonly group: RunGroup };

/** The windows of a run, in the revision that was in force when its arc was lit. */
export function useWindows({ assignment, procedure }: Pick<Run, 'assignment' | 'procedure'>): WindowsNow {
  const { run, side, procedure: named } = assignment ?? {};
  const { value, failure } = useAnswer(procedure === null ? null : async (signal) => await fetchProcedureRevision(procedure.id, procedure.revision, signal), [procedure?.id, procedure?.revision]);
  return useMemo(() => {
    if (value !== null) return groupIn(value, assignment);
    if (failure !== null) return { is: 'failed', reason: failure.reason };
    if (procedure !== null) return { is: 'asking' };
    return assignment === null ? { is: 'unassigned' } : named === undefined ? { is: 'notNamed' } : { is: 'unknown', id: named };
  }, [value, failure, procedure === null, assignment === null, run, side, named]);
}

function groupIn(procedure: Procedure, assignment: Run['assignment']): WindowsNow {
  const group = runGroupOf(procedure.runGroups, assignment);
  return group === undefined ? { is: 'noGroup', procedure } : { is: 'known', procedure, group };
}

/** mm that each arc runs behind arc 1. */
export function arcOffsets(windows: WindowsNow): Readonly<Record<number, number>> {
  if (windows.is !== 'known') return {};
  return Object.fromEntries((windows.group.arcs ?? []).map(({ arc, offset }) => [arc, offset ?? 0]));
}
