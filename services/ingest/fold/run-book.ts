import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import type { Excursion } from '../../../shared/weld/judging/excursion-track.js';
import type { RowGroup } from '../../../shared/weld/rows/row-group.js';
import type { RunState } from '../../../shared/weld/run/run-state.js';
import type { RunSums } from '../../../shared/weld/run/run-sums.js';
import type { Pass } from './known-passes.js';

/** What the record of a run needs besides the fold; it survives restarts. */
export interface RunEntry {
  readonly id: string;
  ordinal: number;
  epoch: number;
  start: number;
  /** Index of the declaration of sensors by which it was lit; -1 without one. Runs of earlier versions have none. */
  sensors?: number | undefined;
  attempt: number;
  version: number;
  revisedAt: number | null;
  /** Arrival time at which the run was finished, µs; null while it is open. */
  finished: number | null;
  /** Revision of the named procedure that was in force when the arc was lit; null if there is none. */
  revision: number | null;
  /** JSON of an assignment that a person gave afterwards. */
  override: string | null;
  /** The sample of the plate's temperature before it, as text; runs of earlier versions have none. */
  plate?: string | undefined;
  /** First item, and the last place that belongs to it (null: no end known). */
  first: { rank: number; key: number } | null;
  to: { rank: number; key: number } | null;
  /** A late item came since the record was written. */
  revise: boolean;
  lastOn: number;
  /** A record of the run is stored. */
  recorded: boolean;
  /** The stored columns by which the run is listed and found; null if they are not known. */
  listed: string | null;
  /** The stored density of each arc as it was last written, and when that was, µs of the steady clock; null if it is not known. */
  density?: { readonly at: number; readonly cells: ReadonlyMap<number, string> } | null;
  /** The stored excursions, piece by piece, and the assignment under which they were found; null if they are not known. */
  excursions: { readonly assignment: Assignment | null; readonly pieces: readonly (readonly Excursion[])[] } | null;
  /** The pass under which the run is stored; null if it is not stored, or has no assignment. */
  pass: Pass | null;
  /** The final rows summed under the assignment that a person gave; null without one, and once no row can change any more. */
  under: SumsUnder | null;
}

/** The part of a run's entry that is stored as its span. */
export type SavedSpan = Pick<RunEntry, 'ordinal' | 'epoch' | 'start' | 'sensors' | 'plate' | 'revisedAt' | 'revision' | 'first' | 'to' | 'lastOn'>;

export function savedSpan(entry: RunEntry): string {
  const { ordinal, epoch, start, sensors, plate, revisedAt, revision, first, to, lastOn } = entry;
  return JSON.stringify({ ordinal, epoch, start, sensors, plate, revisedAt, revision, first, to, lastOn } satisfies SavedSpan);
}

/** Sums of the rows up to the last one with an arc, that row, and the rows in the dark after it, which are dropped if the run ends before them. */
export interface SumsUnder {
  readonly sums: RunSums;
  last: RowGroup | null;
  dark: RowGroup[];
}

/** A run that the fold keeps open: when its arc last burnt, and the newest place of the carriage, µs of device time. */
export interface OpenRun {
  readonly epoch: number;
  readonly lastOn: number;
  readonly newest: number;
}

/** The runs of a carriage that may still change. */
export interface RunBook {
  /** Runs that may still change, and the newest ones before them, by ordinal. */
  readonly entries: Map<number, RunEntry>;
  /** Lowest ordinal of the stored runs that are not in `entries`; null if there are none. */
  olderOrdinal: number | null;
  /** Runs of an earlier fold that the present one has not found again yet. */
  readonly orphans: RunEntry[];
  /** Ids of runs that were reported as over: the rows after their ends were cut, and are needed if they continue. */
  readonly cut: Set<string>;
  /** Runs that finished for good since their records were written, by ordinal. */
  readonly finished: Map<number, RunState>;
  /** Ids of runs that have provisional rows in the trace store. */
  tails: Set<string>;
  /** The revision of its procedure with which each assignment began, by epoch; null if it names no procedure that exists. */
  readonly pinned: Map<number, number | null>;
  /** The open run when it was last checked for silence. */
  open: (OpenRun & { readonly ordinal: number }) | null;
}

export function startRunBook(): RunBook {
  return { entries: new Map(), olderOrdinal: null, orphans: [], cut: new Set(), finished: new Map(), tails: new Set(), pinned: new Map(), open: null };
}

/** The entry of a run of the fold; undefined if it has none yet. */
export function entryOf({ entries }: RunBook, run: { readonly ordinal: number } | null): RunEntry | undefined {
  return run === null ? undefined : entries.get(run.ordinal);
}

/** The entry that a run of the fold has, or will have once its beginning is final; undefined if it is a new one. */
export function knownEntry(runs: RunBook, run: FoldedRun & { readonly ordinal: number }): RunEntry | undefined {
  return runs.entries.get(run.ordinal) ?? findOrphan(runs, run) ?? undefined;
}

/** What says which run of an earlier fold one is: the assignment of its epoch, and its start. */
interface FoldedRun {
  readonly epoch: number;
  readonly start: number;
  readonly assignment: Assignment | null;
}

/** Finds the same run in an earlier fold: by its assignment, or by its time. */
export function findOrphan({ orphans }: RunBook, { epoch, start, assignment }: FoldedRun): RunEntry | null {
  let best: RunEntry | null = null;
  let bestDistance = Infinity;
  for (const orphan of orphans) {
    const distance = start >= orphan.start && start <= orphan.lastOn ? 0 : Math.abs(orphan.start - start);
    // One assignment may have had several attempts: the nearest of its runs comes before all others.
    const same = assignment !== null && orphan.epoch === epoch;
    // A run of another seam or number that began nearby is another one: what was entered for it stays with it.
    const other = assignment !== null && orphan.pass !== null && (orphan.pass.seam !== assignment.seam || orphan.pass.run !== assignment.run);
    const rank = same ? distance - Number.MAX_SAFE_INTEGER : distance;
    if (rank < bestDistance && (same || distance === 0 || (distance <= 60_000_000 && !other))) {
      best = orphan;
      bestDistance = rank;
    }
  }
  return best;
}

/** Prepares to fold again from before the run `ordinal`: the entries from there on wait to be matched again. */
export function orphanFrom({ entries, orphans, finished }: RunBook, ordinal: number): void {
  for (const [own, entry] of entries) {
    if (own < ordinal) continue;
    orphans.push(entry);
    entries.delete(own);
  }
  finished.clear();
}

/** Drops an entry that is stored and will not change. */
export function forgetEntry(runs: RunBook, ordinal: number): void {
  runs.entries.delete(ordinal);
  runs.olderOrdinal = Math.min(runs.olderOrdinal ?? ordinal, ordinal);
}

/** Whether a stored run began before those from an ordinal on. */
export function hasRunBefore({ entries, olderOrdinal }: RunBook, ordinal: number): boolean {
  if (olderOrdinal !== null && olderOrdinal < ordinal) return true;
  for (const entry of entries.values()) if (entry.recorded && entry.ordinal < ordinal) return true;
  return false;
}
