import type { Selectable } from 'kysely';
import type { TraceChange } from '../traces/trace-change.js';
import type { SummedRun, SummedStream, SummedTemperature } from './row-sum.js';
import type { AlarmTable, JobChangeTable } from './tables.js';

/**
 * Everything that one commit changes, as plain data that `structuredClone` accepts. Nothing in it depends on a number that the database assigns: a stream
 * has its id before, and all else is keyed by stream and rank, position or number, or by an id of its own. Lists are applied in this order, entries
 * in theirs. Times are whole µs since 1970; what is text in a table is text here.
 */
export interface ChangeSet {
  /** By how much the wall clock was set, µs: times of arrival from which something is counted are moved. */
  readonly clockSteps: number[];
  /** No checkpoint was made later, µs: a clock that was set back since would have some lie ahead. */
  newestCheckpoint: number | null;
  readonly streams: StreamChange[];
  readonly times: { readonly stream: number; readonly arc: number; readonly time: number }[];
  /** Assignments that came from an outside broker, by packet id and content. */
  readonly taken: { readonly stream: number; readonly message: string }[];
  /** The messages of a stream in one pack; `number` is that of the last, `first` that of the first. */
  readonly kept: { readonly stream: number; readonly number: number; readonly first: number; readonly arrived: number; readonly kind: string; readonly payload: Uint8Array }[];
  readonly boots: BootChange[];
  /** `position` is its place among those of the stream: what is stored there is replaced. */
  readonly assignments: { readonly stream: number; readonly position: number; readonly received: number; readonly anchor: string; readonly body: string | null }[];
  readonly sensors: { readonly stream: number; readonly revision: number; readonly at: number; readonly by: string; readonly after: string | null; readonly body: string }[];
  readonly checkpoints: CheckpointChange[];
  readonly runs: RunChange[];
  /** The pieces of a run's excursions from `from` on are dropped, or one piece is replaced. */
  readonly excursions: ({ readonly run: string; readonly piece: number; readonly list: string } | { readonly run: string; readonly from: number })[];
  /** The density of one arc of a run is replaced, or those of all arcs but some are dropped. */
  readonly densities: ({ readonly run: string; readonly arc: number; readonly cells: string } | { readonly run: string; readonly exceptFor: readonly number[] })[];
  readonly alarms: SavedAlarm[];
  readonly late: { readonly run: string; readonly received: number; readonly boot: string | null; readonly seq: number | null; readonly arc: number; readonly time: number | null; readonly item: string }[];
  readonly refused: { readonly received: number; readonly topic: string; readonly reason: string; readonly size: number; readonly head: Uint8Array }[];
  readonly procedures: { readonly id: string; readonly revision: number; readonly created: number; readonly by: string; readonly body: string }[];
  readonly jobChanges: JobChange[];
  /** One with an id that is stored replaces what is stored: it was withdrawn. */
  readonly temperatures: Readonly<SummedTemperature>[];
  readonly imports: ImportChange[];
  readonly traces: TraceChange[];
  readonly drops: Drop[];
  /** When a small write was last made only to see whether storage accepts writes. */
  probe: number | null;
}

export interface StreamChange extends SummedStream {
  readonly id: number;
}

export interface BootChange {
  readonly stream: number;
  readonly rank: number;
  readonly boot: string;
  readonly marks: string;
  readonly taken: string | null;
  /** Number of the last kept message that both include. */
  readonly through: number;
  /** The pieces of long marks that changed, and the pieces of each arc that are no longer needed. */
  readonly pieces: readonly { readonly arc: number; readonly piece: number; readonly steps: string }[];
  readonly dropped: readonly { readonly arc: number; readonly before: number }[];
}

export type CheckpointChange =
  | { readonly stream: number; readonly number: number; readonly position: string; readonly keptFrom: number; readonly created: number; readonly state: Uint8Array }
  /** Replaces what is known about its place, and its state if there is another. */
  | { readonly number: number; readonly position: string; readonly state: Uint8Array | null }
  | { readonly drop: number };

/** `rewrite` changes columns by which no list is ordered or searched; the row is complete, since its checksum covers all of it. */
export type RunChange = { readonly whole: SavedRun } | { readonly rewrite: SavedRun } | { readonly finished: number; readonly id: string } | { readonly drop: string };

/** A row of `runs` without its sums. */
export type SavedRun = Readonly<SummedRun> & { readonly record: string };

/** A row of `alarms` without its number and its sum; `recorded` is µs by the service's clock. */
export type SavedAlarm = Readonly<Omit<Selectable<AlarmTable>, 'number' | 'state' | 'priority' | 'over' | 'record_sum' | 'row_sum'>> & {
  readonly state: string;
  readonly priority: string;
  readonly over: 0 | 1;
  readonly record_sum: number;
};

export type JobChange = Readonly<Omit<Selectable<JobChangeTable>, 'id' | 'run_id' | 'row_sum'>> & { readonly run: string | null };

/** What is known about an imported log: its origin, the ids of its runs so far, and whether it came to its end. */
export type ImportChange =
  | { readonly stream: number; readonly at: number; readonly file: string | null; readonly by: string | null; readonly zero: number | null }
  | { readonly stream: number; readonly runs: string; readonly finished: number | null };

export type Drop =
  /** How many rows the messages before a number take. */
  | { readonly kept: number; readonly before: number; readonly most: number }
  /** All but the newest. */
  | { readonly times: number; readonly arc: number; readonly keep: number }
  | { readonly refused: number }
  /** All of a stream except its rows. */
  | { readonly stream: number };

/** The numbers that were given last to a message, a stream and a checkpoint. They rise over restarts and over what was dropped; one that was never committed may be left out. */
export interface StoreNumbers {
  message: number;
  stream: number;
  checkpoint: number;
}

export function emptyChangeSet(): ChangeSet {
  return {
    clockSteps: [], newestCheckpoint: null, streams: [], times: [], taken: [], kept: [], boots: [], assignments: [], sensors: [], checkpoints: [], runs: [], excursions: [], densities: [], alarms: [], late: [], refused: [], procedures: [], jobChanges: [], temperatures: [],
    imports: [], traces: [], drops: [], probe: null,
  };
}

export function isEmptyChangeSet({ probe, newestCheckpoint, ...lists }: ChangeSet): boolean {
  return probe === null && newestCheckpoint === null && Object.values(lists).every(({ length }) => length === 0);
}
