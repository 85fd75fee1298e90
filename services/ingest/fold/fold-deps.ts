import type { ChangeSet, StoreNumbers } from '../../../shared/records/change-set.js';
import type { TraceStore } from '../../../shared/traces/trace-store.js';
import { timelineContext, type TemperatureOf, type Timeline } from '../../../shared/weld/run/assignment-timeline.js';
import { entryIndex } from '../../../shared/weld/run/turn-epochs.js';
import type { FoldContext } from '../../../shared/weld/run/carriage-fold.js';
import type { SensorTimeline } from '../../../shared/weld/run/sensor-timeline.js';
import type { WeldSettings } from '../../../shared/weld/weld-settings.js';
import type { LiveEvent } from '../../ingest-port.js';
import type { KnownPasses } from './known-passes.js';
import type { KnownProcedures } from './known-procedures.js';
import type { RunBook, RunEntry } from './run-book.js';

/** What folding a stream and writing its records needs from outside. It reads no store: what it needs from there was gathered before. */
export interface FoldDeps {
  /** The changes of the current commit; each commit has a new set. */
  changes: ChangeSet;
  readonly numbers: StoreNumbers;
  readonly traces: TraceStore;
  readonly procedures: KnownProcedures;
  readonly passes: KnownPasses;
  readonly settings: WeldSettings;
  /** µs of arrival time after a run's end in which late items still revise it. */
  readonly lateFor: number;
  /** The IANA zone of the shop, in which calendar dates are meant; UTC if absent. */
  readonly timeZone?: string;
  /** µs of device time between two checkpoints of a carriage; a minute if absent. */
  readonly checkpointEvery?: number;
  /** µs since 1970, by the wall clock; `steady` counts µs however that is set. */
  readonly now: () => number;
  readonly steady: () => number;
  /** Since when messages could be received without interruption, µs since 1970. */
  readonly listeningSince: () => number;
  readonly emit: (event: LiveEvent['event'], data: string) => void;
  /** Reports that something in the store differs from what was written; work continues without it. */
  readonly tellDamage?: (what: string) => void;
}

export function isLocked(entry: RunEntry, deps: FoldDeps): boolean {
  return entry.finished !== null && deps.now() - entry.finished > deps.lateFor;
}

/** The fold's view of a carriage's assignments, each with the revision of its procedure when it began. It reads the timeline as it is at the time. */
export function foldContext(timeline: Timeline, sensors: SensorTimeline, runs: RunBook, deps: Pick<FoldDeps, 'settings' | 'procedures'>, temperature: TemperatureOf): FoldContext {
  return timelineContext(timeline, deps.settings, (body, epoch) => deps.procedures.parameters(body, pinRevision(runs, timeline, epoch, deps)), sensors, temperature);
}

/** The revision by which an assignment is welded, or would be if its arc were lit now. */
export function revisionOf(runs: RunBook, timeline: Timeline, epoch: number, { procedures }: Pick<FoldDeps, 'procedures'>): number | null {
  const pinned = runs.pinned.get(epoch);
  if (pinned !== undefined) return pinned;
  const name = timeline[entryIndex(epoch)]?.body?.procedure;
  return name === undefined ? null : procedures.newest(name);
}

/** Fixes, and returns, the revision that was in force when welding under the assignment began. */
export function pinRevision(runs: RunBook, timeline: Timeline, epoch: number, deps: Pick<FoldDeps, 'procedures'>): number | null {
  const revision = revisionOf(runs, timeline, epoch, deps);
  runs.pinned.set(epoch, revision);
  return revision;
}

/**
 * A run that was lit again under a later assignment is welded by the same revision under the earlier ones for it, unless they have one. `pinned` has the
 * revision of each epoch under which a run is stored.
 */
export function pinEarlier(pinned: Map<number, number | null>, timeline: Timeline, { sameRun }: Pick<FoldContext, 'sameRun'>): void {
  for (const [epoch, revision] of [...pinned]) {
    for (let before = entryIndex(epoch) - 1; before >= 0; before -= 1) {
      if (timeline[before]?.body == null) continue;
      if (pinned.has(before) || !sameRun(before, epoch)) break;
      pinned.set(before, revision);
    }
  }
}
