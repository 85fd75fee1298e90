import type { Generated } from 'kysely';
import type { DensityTable, SensorTable, TemperatureTable } from './measured-tables.js';

// In each table: `row_sum` is the checksum of a row (row-sum.ts), `record_sum` that of its record; null where an earlier version wrote it.

/** One carriage's stream of items: the live one (`stream` empty), or one imported log. */
export interface StreamTable {
  id: Generated<number>;
  site: string;
  carriage: string;
  /** Empty for items that come over MQTT; the identity of the log for an import. */
  stream: string;
  /** 1 or 0 from the retained `status`, null while none was received. */
  online: number | null;
  /** Arrival of the newest item, µs since 1970, or null. */
  last_seen: number | null;
  /** Arrival minus device time of the newest item, s, or null. */
  clock_offset: number | null;
  /** The last live figures as JSON (one item of `GET /api/carriages`); if there are none, they are published anew at the start. */
  snapshot: string | null;
  /** 1 if nothing was under way when it left memory. */
  settled: Generated<number>;
  /** 1 if it is hidden until it sends again. */
  retired: Generated<number>;
  /** Arrival of the newest message of any kind, µs. */
  heard: number | null;
  row_sum: number | null;
}

/** One boot of a device, in the order in which they were first seen, with the marks of what was received of it. */
export interface BootTable {
  id: Generated<number>;
  stream_id: number;
  boot: string;
  rank: number;
  /** JSON of the sequence marks: per arc for duplicates, and of all arcs for the `stored` topic; long ones begin in `mark_pieces`. */
  marks: string;
  /** Number of the last kept message that both include: later ones are added when they are read. Null if they include all. */
  through: number | null;
  /** JSON of the tally of its items that counted; null in a store of an earlier version until its carriage is read. */
  taken: string | null;
  row_sum: number | null;
}

/** Times of items without boot or seq, for recognising duplicates. */
export interface TimeMarkTable {
  stream_id: number;
  arc: number;
  time: number;
}

/** Messages as they came, until no run can be revised by them any more: one alone, or those of a stream that were committed together. */
export interface KeptTable {
  /** Number of the message, of a pack that of its last; rises over all streams. */
  id: Generated<number>;
  stream_id: number;
  /** µs since 1970; for a pack, the time of its first message. */
  arrived: number;
  /** `readings` or `senml`, or `pack`. */
  kind: string;
  /** The message as it came; a pack as `services/ingest/message-log-format.ts` describes it. */
  payload: Uint8Array;
  /** Positions within the message of the items that counted, JSON; null where all of them did. */
  taken: string | null;
  /** Number of a pack's first message; null for a message alone. */
  first: number | null;
}

export interface AssignmentTable {
  id: Generated<number>;
  stream_id: number;
  received: number;
  /** JSON of where in the order of items it begins. */
  anchor: string;
  /** JSON of the assignment; null ends the one before. */
  body: string | null;
  row_sum: number | null;
}

/** The state of the fold at a place in the order of items: only ever a shortcut. */
export interface CheckpointTable {
  id: Generated<number>;
  stream_id: number;
  position: string;
  /** The kept messages from this id on contain everything after the position. */
  kept_from: number;
  created: number;
  state: Uint8Array;
}

export interface RunTable {
  /** Opaque, URL-safe. */
  id: string;
  stream_id: number;
  site: string;
  carriage: string;
  seam: string | null;
  run: number | null;
  attempt: number;
  assigned: number;
  state: 'welding' | 'finished';
  simulated: number;
  /** µs since 1970. */
  started: number;
  ended: number | null;
  version: number;
  /** Arrival time at which it was finished, µs; null while it is open. */
  finished: number | null;
  /** Where in the order of items it begins and ends, JSON. */
  span: string;
  /** Marks of the fold (restarts, gaps, …) that its figures are computed from, JSON. */
  marks: string;
  /** Assignment given afterwards by a person, JSON, or null. */
  override: string | null;
  /** The run as the API answers it, JSON. */
  record: string;
  record_sum: number | null;
  /** Its shape, which its excursions and zones share; null if an earlier version wrote it. It is not part of a checksum, as a wrong shape only causes a closer look. */
  record_shape: number | null;
  /** What runs are found and sorted by; as in the record. */
  procedure: string | null;
  operator: string | null;
  /** Lots of flux and wire, each in a line of its own with a line end before and behind it; null where none is named. */
  lots: string | null;
  excursions: Generated<number>;
  complete: Generated<number>;
  judged: Generated<number>;
  /** mm; null while it is being welded and if it is not known. */
  length: number | null;
  row_sum: number | null;
}

/** The beginning of long marks of a boot; `arc` is 0 for marks of all arcs. */
export interface MarkPieceTable {
  boot_id: number;
  arc: number;
  piece: number;
  steps: string;
  row_sum: number | null;
}

/** Excursions of a run, so many to a piece, in order of where they begin. */
export interface ExcursionPieceTable {
  run_id: string;
  piece: number;
  /** JSON of a list of excursions as the API answers them. */
  list: string;
  row_sum: number | null;
}

/** Where the items of an imported log came from. */
export interface ImportTable {
  stream_id: number;
  /** µs since 1970. */
  at: number;
  file: string | null;
  by: string | null;
}

export interface LateTable {
  id: Generated<number>;
  run_id: string;
  received: number;
  boot: string | null;
  seq: number | null;
  arc: number;
  time: number | null;
  /** JSON of the item as decoded. */
  item: string;
  row_sum: number | null;
}

export interface RefusedTable {
  id: Generated<number>;
  received: number;
  topic: string;
  reason: string;
  size: number;
  head: Uint8Array;
}

export interface ProcedureTable {
  id: string;
  revision: number;
  created: number;
  by: string;
  body: string;
  row_sum: number | null;
}

export interface AlarmTable {
  /** Counts up in the order in which they were raised. */
  number: Generated<number>;
  /** Opaque, URL-safe. */
  id: string;
  /** Null for an alarm of the service itself. */
  stream_id: number | null;
  run_id: string | null;
  site: string | null;
  carriage: string | null;
  state: 'unacknowledged' | 'acknowledged' | 'returned' | 'shelved' | 'suppressed' | 'normal';
  /** When it was raised by the service's clock, µs; by the carriage's for alarms from before this was kept. */
  recorded: number | null;
  priority: 'high' | 'medium' | 'low' | null;
  /** As assigned when it was raised. */
  seam: string | null;
  /** 1 if its cause has ended. */
  over: Generated<number>;
  /** What it is followed by, JSON. */
  facts: string;
  /** The alarm as the API answers it, JSON. */
  record: string;
  record_sum: number | null;
  row_sum: number | null;
}

/** Assignments that an outside broker may send again. */
export interface TakenAssignmentTable {
  number: Generated<number>;
  stream_id: number;
  /** Packet id and digest of the content. */
  message: string;
}

/** One line that is rewritten to prove that storage accepts writes. */
export interface ProbeTable {
  id: number;
  written: number;
}

/** Who gave, corrected or ended a job; `before` and `after` are assignments as JSON. */
export interface JobChangeTable {
  id: Generated<number>;
  site: string;
  carriage: string;
  run_id: string | null;
  at: number;
  by: string;
  reason: string | null;
  before: string | null;
  after: string | null;
  row_sum: number | null;
}

export interface Database {
  streams: StreamTable;
  boots: BootTable;
  mark_pieces: MarkPieceTable;
  time_marks: TimeMarkTable;
  kept: KeptTable;
  assignments: AssignmentTable;
  sensors: SensorTable;
  densities: DensityTable;
  checkpoints: CheckpointTable;
  runs: RunTable;
  excursion_pieces: ExcursionPieceTable;
  imports: ImportTable;
  late: LateTable;
  job_changes: JobChangeTable;
  temperatures: TemperatureTable;
  refused: RefusedTable;
  procedures: ProcedureTable;
  alarms: AlarmTable;
  taken_assignments: TakenAssignmentTable;
  probe: ProbeTable;
}
