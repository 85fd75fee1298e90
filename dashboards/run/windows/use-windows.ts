import { useMemo } from 'preact/hooks';
import type { Procedure } from '../../../shared/api-types/procedure.js';
import type { Run } from '../../../shared/api-types/run.js';
import { runGroupOf } from '../../../shared/weld/procedure/procedure-parameters.js';
import { fetchRevision } from '../../shared/api.js';
import { useAnswer } from '../../shared/use-answer.js';
import type { Measure } from '../panels/trace-lines.js';
import { windowWords } from './window-words.js';

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
  const { value, failure } = useAnswer(procedure === null ? null : async (signal) => await fetchRevision(procedure.id, procedure.revision, signal), [procedure?.id, procedure?.revision]);
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

/** A window as it is drawn: of one arc, or of the carriage (0); either end may be open. */
export interface PanelWindow { readonly arc: number; readonly min: number | null; readonly max: number | null }

/** The windows of one trace. */
export function panelWindows(windows: WindowsNow, measure: Measure): PanelWindow[] {
  if (windows.is !== 'known') return [];
  const { group } = windows;
  const drawn = (arc: number, own: { readonly min?: number | undefined; readonly max?: number | undefined } | undefined): PanelWindow[] =>
    own === undefined ? [] : [{ arc, min: own.min ?? null, max: own.max ?? null }];
  if (measure === 'travelSpeed' || measure === 'heatInput' || measure === 't85') return drawn(0, group[measure]);
  return (group.arcs ?? []).flatMap((arc) => drawn(arc.arc, arc[measure]));
}

/** Why a run has no windows, as the end of a sentence; null where it has some or they are not known yet. */
export function whyNoWindows(windows: WindowsNow, run: Pick<Run, 'run'>): string | null {
  const say = windowWords();
  switch (windows.is) {
    case 'known':
    case 'asking': return null;
    case 'unassigned': return say.unassigned();
    case 'notNamed': return say.notNamed;
    case 'unknown': return say.unknown(windows.id);
    case 'noGroup': return say.noGroup(say.revision(windows.procedure.id, windows.procedure.revision), String(run.run ?? ''));
    case 'failed': return say.failed(windows.reason);
  }
}

/** Which windows the traces show, or why there are none. */
export function windowsText(windows: WindowsNow, run: Pick<Run, 'run'>): string {
  const say = windowWords();
  if (windows.is === 'asking') return say.asking;
  if (windows.is === 'known') return say.known(say.revision(windows.procedure.id, windows.procedure.revision), windows.group.name ?? null);
  return say.none(whyNoWindows(windows, run) ?? '');
}
