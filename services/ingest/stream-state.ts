import type { StreamChange } from '../../shared/records/change-set.js';
import type { Assignment } from '../../shared/weld/assignment.js';
import type { Timeline } from '../../shared/weld/assignment-timeline.js';
import type { AlarmCondition } from '../../shared/weld/alarm-conditions.js';
import type { AlarmFacts } from '../../shared/weld/alarm-life.js';
import type { Excursion } from '../../shared/weld/excursion-track.js';
import type { FoldedRow, LiveFold } from '../../shared/weld/live-fold.js';
import type { OrderedItem, Position } from '../../shared/weld/order.js';
import type { RowGroup } from '../../shared/weld/row-group.js';
import type { RunState } from '../../shared/weld/run-state.js';
import type { ItemTally } from '../../shared/weld/item-tally.js';
import type { BootMarks } from '../../shared/weld/seq-marks-text.js';
import type { RunSums } from '../../shared/weld/run-sums.js';
import type { CarriageAlarms } from './carriage-alarms.js';
import type { PlacedCheckpoint } from './checkpoints.js';
import type { KeptMessage } from './kept-pack.js';
import type { Pass } from './known-passes.js';
import type { LogOrigin } from './run-origin.js';
import type { StoredAlarms } from './stored-alarms.js';

/** One boot of the device: what was seen of it, per arc and (for the `stored` topic) of any. */
export interface BootState {
  readonly boot: string;
  readonly rank: number;
  readonly marks: BootMarks;
  /** Its items that counted; null in a store of an earlier version until the stream is read. */
  taken: ItemTally | null;
  /** What is in memory of it is ahead of what is stored: by messages that are kept, or by more than these tell. */
  ahead: 'no' | 'byKept' | 'byMore';
  /** What is stored of it is other than it was written: it is not written over. */
  readonly lost?: true;
}

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
  /** What is stored of it, and of that what runs are listed and found by; null where that is not known. */
  saved: string | null;
  listed: string | null;
  /** Its excursions as they are stored, piece by piece, and the assignment under which; null where that is not known. */
  excursions: { readonly assignment: Assignment | null; readonly pieces: readonly (readonly Excursion[])[] } | null;
  /** What it is stored under; null where nothing of it is, or without an assignment. */
  pass: Pass | null;
  /** Its final rows summed under the assignment that a person gave; null without one, and where its rows are final for good. */
  under: SumsUnder | null;
}

/** Sums of the rows up to the last one with an arc, that row, and the rows in the dark behind it: they go where the run ends before them. */
export interface SumsUnder {
  readonly sums: RunSums;
  last: RowGroup | null;
  dark: RowGroup[];
}

/** Everything that ingest holds of one carriage (or one imported log). */
export interface StreamState {
  readonly id: number;
  readonly site: string;
  readonly carriage: string;
  readonly stream: string;
  /** Of an imported log; null where that is not known. */
  origin: LogOrigin | null;
  online: boolean | null;
  /** Arrival time of the newest item, µs. */
  lastSeen: number | null;
  /** That of each arc since it is in memory, and for each `noData` alarm raised since then that of the last item before it, µs. */
  heard: Map<number, number>;
  silences: Map<string, number>;
  /** Arrival time of the newest message of any kind, µs, and when it was looked at or its old items let go of last, µs of the steady clock. */
  messageAt: number | null;
  touchedAt: number;
  droppedAt: number;
  /** Whether it need not be read at a start, as its row says; null where it has none yet. */
  settled: boolean | null;
  /** Shown nowhere until it is heard again. */
  retired: boolean;
  clockOffset: number | null;
  boots: Map<string, BootState>;
  /** Newest time of items without sequence, per arc: anything later cannot be a duplicate. */
  newestTimes: Map<number, number>;
  timeLines: number;
  /** Of the times of items without sequence at hand those that are stored, as `arc time`. */
  knownTimes: Set<string>;
  /** Each entry's place among the stored assignments, and how many of these there are: some may not be readable. */
  timeline: Timeline;
  assignmentPlaces: number[];
  assignments: number;
  newest: OrderedItem | null;
  newestOfArc: Map<number, OrderedItem>;
  live: LiveFold;
  /** Items taken since the last fold. */
  fresh: OrderedItem[];
  /** Messages of the transaction at hand that are to be kept and not written yet, and the bytes of their payloads. */
  gathered: KeptMessage[];
  gatheredBytes: number;
  /** Everything must be folded again from the newest checkpoint that is left, or from the start. */
  dirtyFrom: 'start' | 'latest' | null;
  /** The stored checkpoints in order of their numbers, and the place of the newest one that is folded from. */
  checkpoints: PlacedCheckpoint[];
  checkpoint: Position | null;
  /** Up to here the items were let go of for good: only the checkpoint that stands here knows of them. */
  floor: (Position & { readonly ordinal: number }) | null;
  /** How long folding again took last, ms, and when it ended, ms by the steady clock; null where it was read from the store and not folded since. */
  refoldCost: number;
  refoldedAt: number | null;
  /** Runs that may still change, and the newest ones before them, by their ordinal. */
  runs: Map<number, RunEntry>;
  /** Least ordinal of the stored runs that are not among these; null without any. */
  olderOrdinal: number | null;
  /** Ids of runs that were told to be over: rows behind their ends were cut, and are needed where they go on. */
  cut: Set<string>;
  /** Runs of an earlier fold that the present one has not found again yet. */
  orphans: RunEntry[];
  checkpointAt: number | null;
  /** Revision of the procedure that each assignment was begun with; null where it named none that exists. */
  pinned: Map<number, number | null>;
  /** Runs that finished for good since their records were written, by ordinal. */
  finishedRuns: Map<number, RunState>;
  /** Ids of runs that have provisional rows in the trace store. */
  tails: Set<string>;
  /** The open run as it was looked at last, for judging silence. */
  open: { readonly ordinal: number; readonly epoch: number; readonly lastOn: number; readonly newest: number } | null;
  /** Rows of the last minute, for live figures. */
  recent: FoldedRow[];
  /** The alarms that are not over or shelved, and those of the runs at hand. Of all others only their number is held. */
  alarms: AlarmFacts[];
  /** What else is known of alarms as they are stored. */
  stored: StoredAlarms;
  /** How many are over and not acknowledged. */
  clearedAlarms: number;
  /** What is told of them; null where they have changed since. */
  shownAlarms: { readonly run: string | null; readonly alarms: CarriageAlarms } | null;
  /** Runs whose alarms are among these, and what their conditions were when they were followed last; none where nothing was raised for them. */
  followed: Map<string, { readonly mark: string; readonly conditions: readonly AlarmCondition[] | null }>;
  /** The alarms have changed since they were published last; true at the start. */
  alarmsChanged: boolean;
  snapshot: string | null;
  /** When records were written and figures sent last, and when they are the next time, µs of the steady clock: `Infinity` where there is nothing new. */
  flushedAt: number;
  toldAt: number;
  flushAt: number;
  tellAt: number;
  /** When anything is due if nothing comes, µs of the steady clock; 0 where something has come. */
  dueAt: number;
  /** Place of the first checkpoint that was written since: the records of its runs go into the same transaction, or it goes. */
  unrecorded: Position | null;
  storedAt: number;
  storedChanged: boolean;
  storedBoots: string[];
  /** The records or a checkpoint are written in the commit at hand: the marks of its boots go with them. */
  marksDue: boolean;
  /** Set when folding failed: items are still kept, figures stand still. */
  fault: string | null;
}

/** What is stored of a stream besides its runs; `settled` where nothing is under way for it. */
export function streamChange(own: StreamState, settled: boolean): StreamChange {
  own.settled = settled;
  const { id, site, carriage, stream, snapshot } = own;
  const online = own.online === null ? null : Number(own.online);
  return { id, site, carriage, stream, online, last_seen: own.lastSeen, clock_offset: own.clockOffset, snapshot, settled: Number(settled), retired: Number(own.retired), heard: own.messageAt };
}
