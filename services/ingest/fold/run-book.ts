import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import type { Excursion } from '../../../shared/weld/judging/excursion-track.js';
import type { RowGroup } from '../../../shared/weld/rows/row-group.js';
import type { RunState } from '../../../shared/weld/run/run-state.js';
import type { RunSums } from '../../../shared/weld/run/run-sums.js';
import type { Pass } from './known-passes.js';

/** What the record of a run needs besides the fold, kept over restarts. */
export interface RunEntry {
  readonly id: string;
  ordinal: number;
  epoch: number;
  start: number;
  attempt: number;
  version: number;
  revisedAt: number | null;
  /** Arrival time at which it was finished, µs; null while it is open. */
  finished: number | null;
  /** Revision of the named procedure that was in force when its arc was lit; null where there is none. */
  revision: number | null;
  /** JSON of an assignment that a person gave afterwards. */
  override: string | null;
  /** First item, and the last place that belongs to it (null: no end known). */
  first: { rank: number; key: number } | null;
  to: { rank: number; key: number } | null;
  /** A late item came since the record was written. */
  revise: boolean;
  lastOn: number;
  /** A record of it is stored. */
  recorded: boolean;
  /** What is stored of it that runs are listed and found by; null where that is not known. */
  listed: string | null;
  /** Its excursions as they are stored, piece by piece, and the assignment under which; null where that is not known. */
  excursions: { readonly assignment: Assignment | null; readonly pieces: readonly (readonly Excursion[])[] } | null;
  /** What it is stored under; null where nothing of it is, or without an assignment. */
  pass: Pass | null;
  /** Its final rows summed under the assignment that a person gave; null without one, and where its rows are final for good. */
  under: SumsUnder | null;
}

/** What of a run's entry is stored as its span. */
export type SavedSpan = Pick<RunEntry, 'ordinal' | 'epoch' | 'start' | 'revisedAt' | 'revision' | 'first' | 'to' | 'lastOn'>;

export function savedSpan(entry: RunEntry): string {
  const { ordinal, epoch, start, revisedAt, revision, first, to, lastOn } = entry;
  return JSON.stringify({ ordinal, epoch, start, revisedAt, revision, first, to, lastOn } satisfies SavedSpan);
}

/** Sums of the rows up to the last one with an arc, that row, and the rows in the dark behind it: they go where the run ends before them. */
export interface SumsUnder {
  readonly sums: RunSums;
  last: RowGroup | null;
  dark: RowGroup[];
}

/** A run that the fold holds open: where its arc burnt last, and the newest place of the carriage, µs of device time. */
export interface OpenRun {
  readonly epoch: number;
  readonly lastOn: number;
  readonly newest: number;
}

/** The runs of a carriage, as far as they may still change. */
export interface RunBook {
  /** Runs that may still change, and the newest ones before them, by their ordinal. */
  readonly entries: Map<number, RunEntry>;
  /** Least ordinal of the stored runs that are not among these; null without any. */
  olderOrdinal: number | null;
  /** Runs of an earlier fold that the present one has not found again yet. */
  readonly orphans: RunEntry[];
  /** Ids of runs that were told to be over: rows behind their ends were cut, and are needed where they go on. */
  readonly cut: Set<string>;
  /** Runs that finished for good since their records were written, by ordinal. */
  readonly finished: Map<number, RunState>;
  /** Ids of runs that have provisional rows in the trace store. */
  tails: Set<string>;
  /** Revision of the procedure that each assignment was begun with; null where it named none that exists. */
  readonly pinned: Map<number, number | null>;
  /** The open run as it was looked at last, for judging silence. */
  open: (OpenRun & { readonly ordinal: number }) | null;
}

export function startRunBook(): RunBook {
  return { entries: new Map(), olderOrdinal: null, orphans: [], cut: new Set(), finished: new Map(), tails: new Set(), pinned: new Map(), open: null };
}

/** The entry of a run of the fold; none where it has none yet. */
export function entryOf({ entries }: RunBook, run: { readonly ordinal: number } | null): RunEntry | undefined {
  return run === null ? undefined : entries.get(run.ordinal);
}

/** The fold begins again before the run `ordinal`: the entries from there on wait to be found again. */
export function orphanFrom({ entries, orphans, finished }: RunBook, ordinal: number): void {
  for (const [own, entry] of entries) {
    if (own < ordinal) continue;
    orphans.push(entry);
    entries.delete(own);
  }
  finished.clear();
}

/** Lets go of an entry that is stored and will not change. */
export function forgetEntry(runs: RunBook, ordinal: number): void {
  runs.entries.delete(ordinal);
  runs.olderOrdinal = Math.min(runs.olderOrdinal ?? ordinal, ordinal);
}

/** Whether any run is stored that began before those from an ordinal on. */
export function hasRunBefore({ entries, olderOrdinal }: RunBook, ordinal: number): boolean {
  if (olderOrdinal !== null && olderOrdinal < ordinal) return true;
  for (const entry of entries.values()) if (entry.recorded && entry.ordinal < ordinal) return true;
  return false;
}
