import type { Assignment, MaterialChange } from '../shared/weld/procedure/assignment.js';
import type { Sensors } from '../shared/weld/procedure/sensors.js';
import type { Measurement } from '../shared/weld/temperatures/measurement.js';
import type { PreparationChange } from '../shared/weld/preparation/enter-preparation.js';

/** Items since the process's start; `received = stored + duplicate + refused` always holds. */
export interface ItemCounters {
  readonly stored: number;
  readonly duplicate: number;
  readonly refused: number;
  /** Duplicates whose content differed from what was stored first. */
  readonly conflict: number;
  readonly unknownFields: number;
  readonly commits: number;
  /** s spent in commits. */
  readonly commitSeconds: number;
  /** Connections made to the outside broker. */
  readonly brokerConnects: number;
  /** Messages that wait for a commit now. */
  readonly queued: number;
}

/** One commit of messages. */
export interface CommitFacts {
  readonly messages: number;
  /** s that the transaction took, its sync included. */
  readonly seconds: number;
  /** s from the arrival of its oldest message until the acknowledgements left. */
  readonly waited: number;
}

export interface StorageHealth {
  readonly ok: boolean;
  /** Why not, in words; null when ok. */
  readonly reason: string | null;
  /** Last write probe that succeeded, ms since 1970, or null. */
  readonly writtenAt: number | null;
  /** What was found damaged in the store since the start, in words; null where nothing was. */
  readonly damage: string | null;
}

/** What the service tells its listeners. `data` is already the JSON text of the answer. */
export interface LiveEvent {
  readonly event: 'carriage' | 'carriageGone' | 'run' | 'alarm';
  readonly data: string;
}

export interface ImportRequest {
  readonly site: string;
  readonly carriage: string;
  readonly assignment: Assignment | null;
  /** Where the times of the log are relative: the time of its zero, ms since 1970. */
  readonly start: number | null;
  /** Name of the log's file and who imports it, where they were told. */
  readonly file: string | null;
  readonly by: string | null;
}

export interface ImportAnswer {
  readonly runs: readonly string[];
  readonly stored: number;
  readonly duplicate: number;
  /** Lines of the log with something in them, its header left out; how many of them were refused, and the first of those. */
  readonly lines: number;
  readonly refusedLines: number;
  readonly refused: readonly { readonly line: number; readonly reason: string }[];
  /** Runs of the same log under another carriage, and of the same carriage at the same time: both stay. */
  readonly also: readonly {
    readonly reason: 'sameLog' | 'sameTime';
    readonly run: string;
    readonly site: string;
    readonly carriage: string;
    readonly seam: string | null;
    readonly runNumber: number | null;
  }[];
}

export interface EnteredPreparation {
  /** The assignment that it is meant for; whichever is in force where null. */
  readonly seam: string | null;
  readonly run: number | null;
  readonly change: PreparationChange;
  readonly by: string;
}

/** Which alarms: those named, or all of a run or of a carriage; with `cleared` of them those alone that are cleared. */
export interface AlarmSelection {
  readonly ids?: readonly string[] | undefined;
  readonly run?: string | undefined;
  readonly carriage?: { readonly site: string; readonly carriage: string } | undefined;
  readonly cleared: boolean;
}

/** A change of wire or flux, as it is entered at a carriage. */
export interface EnteredMaterial {
  /** The assignment that it is meant for; whichever is in force where null. */
  readonly seam: string | null;
  readonly run: number | null;
  readonly kind: MaterialChange['kind'];
  readonly arc: number | null;
  readonly lot: string | null;
  readonly mass: number | null;
  /** mm travelled; where the carriage is where null. */
  readonly travelled: number | null;
  readonly by: string;
}

/** Where a temperature is entered: at a run, or at a carriage for the run to come. */
export type MeasuredWhere = { readonly run: string } | { readonly site: string; readonly carriage: string };

/** A temperature of the plate as it is entered: °C, mm, µs. */
export interface EnteredTemperature extends Pick<Measurement, 'kind' | 'value' | 'place' | 'seamPosition' | 'distance' | 'instrument' | 'by' | 'reason'> {
  /** By the clock of the carriage; now where null. */
  readonly at: number | null;
  /** At a carriage, that of the assignment in force where undefined. */
  readonly seam: string | null | undefined;
}

/** Who changes a job, and why. */
export interface Signed {
  readonly by: string;
  readonly reason: string | null;
}

export interface PortFailure {
  /** `busy`: not now, though nothing is wrong. */
  readonly failed: 'notFound' | 'conflict' | 'storage' | 'invalid' | 'busy';
  readonly reason: string;
  /** The run that holds a log already. */
  readonly held?: { readonly run: string; readonly seam: string | null; readonly runNumber: number | null };
}

/**
 * What HTTP may ask of ingest. Ingest has the only connection that writes; everything that the API changes goes
 * through here, and is answered when it is committed.
 */
export interface IngestPort {
  /** Begins (or, with null, ends) an assignment as over MQTT; publishes it retained. */
  assign(site: string, carriage: string, assignment: Assignment | null, signed: Signed): Promise<PortFailure | { readonly ok: true }>;
  /** Declares the sensors of a carriage from the newest item on, as one more revision; runs that were lit before keep theirs. */
  declareSensors(site: string, carriage: string, sensors: Sensors, by: string): Promise<PortFailure | { readonly revision: number; readonly at: number }>;
  /** Forgets a carriage without runs, retires one with runs; a conflict while it welds. */
  retireCarriage(site: string, carriage: string): Promise<PortFailure | { readonly ok: true }>;
  /** Merges entries of the preparation into the assignment in force, which is published again; a conflict where none, or another one, is. */
  enterPreparation(site: string, carriage: string, entered: EnteredPreparation): Promise<PortFailure | { readonly assignment: Assignment }>;
  /** Adds a change of wire or flux to the assignment in force, which is published again; a conflict where none, or another one, is. */
  changeMaterial(site: string, carriage: string, entered: EnteredMaterial): Promise<PortFailure | { readonly assignment: Assignment }>;
  /** Enters a temperature of the plate. */
  enterTemperature(where: MeasuredWhere, entered: EnteredTemperature): Promise<PortFailure | { readonly measured: Measurement; readonly site: string; readonly carriage: string }>;
  /** Withdraws a temperature, which changes nothing where that was done before. */
  withdrawTemperature(where: MeasuredWhere, id: string, signed: Signed): Promise<PortFailure | { readonly ok: true }>;
  /** Assigns a finished run that had none, or corrects it. */
  assignRun(run: string, assignment: Assignment, signed: Signed): Promise<PortFailure | { readonly ok: true }>;
  /** Imports a log of CSV in UTF-8: all of it or nothing. Rejects with what `log` rejects with; gives up where its sender is `gone`. */
  importLog(request: ImportRequest, log: AsyncIterable<Uint8Array>, gone: AbortSignal): Promise<PortFailure | ImportAnswer>;
  /** Stores revision 1 of a procedure, or a further one. `body` is the checked procedure as JSON text. */
  addProcedure(id: string, body: string, by: string, first: boolean): Promise<PortFailure | { readonly revision: number }>;
  /** Acknowledges an alarm, or adds a note to one that is; the alarm as JSON text of its API form. */
  acknowledgeAlarm(id: string, by: string, note: string | null): Promise<PortFailure | { readonly alarm: string }>;
  /** Shelves an alarm until then, µs since 1970. */
  shelveAlarm(id: string, by: string, reason: string, until: number): Promise<PortFailure | { readonly alarm: string }>;
  /** Brings a shelved alarm back; a conflict where it is not shelved. */
  unshelveAlarm(id: string, by: string): Promise<PortFailure | { readonly alarm: string }>;
  /** Acknowledges those that nobody has, in one commit; how many these were. Not found where an id names none: nothing is changed then. */
  acknowledgeAlarms(which: AlarmSelection, by: string, note: string | null): Promise<PortFailure | { readonly acknowledged: number }>;
  /** Alarms of the service itself as they were told last, newest first: while storage is away they are written nowhere. */
  serviceAlarms(): readonly string[];
  counters(): ItemCounters;
  /** Tells of commits, about once a second; returns what ends that. */
  onCommits(listener: (commits: readonly CommitFacts[]) => void): () => void;
  health(): StorageHealth;
  /** The newest state of every carriage, each as the JSON text of one item of `GET /api/carriages`. */
  carriages(): readonly string[];
  subscribe(listener: (event: LiveEvent) => void): () => void;
}
