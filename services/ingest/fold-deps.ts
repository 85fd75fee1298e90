import type { ChangeSet } from '../../shared/records/change-set.js';
import type { TraceStore } from '../../shared/traces/trace-store.js';
import type { Assignment } from '../../shared/weld/assignment.js';
import { timelineContext } from '../../shared/weld/assignment-timeline.js';
import type { FoldContext } from '../../shared/weld/carriage-fold.js';
import { procedureParameters } from '../../shared/weld/procedure-parameters.js';
import type { ProcedureOutline } from '../../shared/weld/procedure-parameters.js';
import type { WeldSettings } from '../../shared/weld/weld-settings.js';
import type { ProcedureParameters } from '../../shared/weld/zone.js';
import { noProcedure } from '../../shared/weld/zone.js';
import type { LiveEvent } from '../ingest-port.js';
import type { KnownPasses } from './known-passes.js';
import type { KnownProcedures } from './known-procedures.js';
import type { RunEntry, StreamState } from './stream-state.js';

/** The numbers that were given last to a message, a stream and a checkpoint. They rise over restarts and over what was dropped; one that was never committed may be left out. */
export interface StoreNumbers {
  message: number;
  stream: number;
  checkpoint: number;
}

/** What folding a stream and writing its records needs from outside. It reads no store: what it needs of that was gathered before. */
export interface FoldDeps {
  /** What the commit at hand changes; each commit has a new one. */
  changes: ChangeSet;
  readonly numbers: StoreNumbers;
  readonly traces: TraceStore;
  readonly procedures: KnownProcedures;
  readonly passes: KnownPasses;
  readonly settings: WeldSettings;
  /** µs of arrival time after a run's end in which late items still revise it. */
  readonly lateFor: number;
  /** µs of device time between two checkpoints of a carriage; a minute where it is left out. */
  readonly checkpointEvery?: number;
  /** µs since 1970, as the machine has it; `steady` counts µs whatever that is set to. */
  readonly now: () => number;
  readonly steady: () => number;
  /** Since when messages could be taken without a break, µs since 1970. */
  readonly listeningSince: () => number;
  readonly emit: (event: LiveEvent['event'], data: string) => void;
  /** Something in the store is other than it was written; work goes on without it. */
  readonly tellDamage?: (what: string) => void;
}

export function isLocked(entry: RunEntry, deps: FoldDeps): boolean {
  return entry.finished !== null && deps.now() - entry.finished > deps.lateFor;
}

/** The context reads the timeline as it is at the time, so that one serves for as long as there is the stream. */
const contexts = new WeakMap<StreamState, { readonly deps: FoldDeps; readonly context: FoldContext }>();

/** The fold's view of a stream's assignments, each with the procedure's revision it was begun with. */
export function contextOf(stream: StreamState, deps: FoldDeps): FoldContext {
  const held = contexts.get(stream);
  if (held?.deps === deps) return held.context;
  const context = timelineContext(stream.timeline, deps.settings, (body) => {
    const epoch = stream.timeline.findLastIndex((entry) => entry.body === body);
    return parametersOf(body, pinRevision(stream, epoch, deps), deps);
  });
  contexts.set(stream, { deps, context });
  return context;
}

/** The revision in force when the assignment was first welded by; it stays that one. */
export function pinRevision(stream: StreamState, epoch: number, deps: FoldDeps): number | null {
  const known = stream.pinned.get(epoch);
  if (known !== undefined) return known;
  const name = stream.timeline[epoch]?.body?.procedure;
  const revision = name === undefined ? null : deps.procedures.newest(name);
  stream.pinned.set(epoch, revision);
  return revision;
}

/** A revision never changes, nor does an assignment that was taken: what they mean together is looked up once. */
const known = new WeakMap<Assignment, { readonly revision: number; readonly parameters: ProcedureParameters }>();

export function parametersOf(body: Assignment | null, revision: number | null, deps: Pick<FoldDeps, 'procedures'>): ProcedureParameters {
  if (body?.procedure === undefined || revision === null) return noProcedure;
  const held = known.get(body);
  if (held?.revision === revision) return held.parameters;
  const stored = deps.procedures.body(body.procedure, revision);
  if (stored === null) return noProcedure;
  const parameters = procedureParameters(JSON.parse(stored) as ProcedureOutline, body);
  known.set(body, { revision, parameters });
  return parameters;
}
