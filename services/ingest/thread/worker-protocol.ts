import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import type { AlarmSelection, CommitFacts, EnteredMaterial, EnteredPreparation, LiveEvent, PortFailure, Signed, StorageHealth } from '../../ingest-port.js';
import type { Settings } from '../../settings.js';
import type { NamedLog } from './held-log.js';
import type { BegunLog, ImportCalls } from './import-calls.js';

/** What the ingest thread is started with. */
export interface WorkerStart {
  readonly settings: Settings;
  readonly databaseFile: string;
  readonly counters: SharedArrayBuffer;
}

/** The calls between the threads: name, arguments and answer. */
export interface WorkerCalls {
  assign: { args: [site: string, carriage: string, assignment: Assignment | null, signed: Signed]; answer: PortFailure | { readonly ok: true } };
  retireCarriage: { args: [site: string, carriage: string]; answer: PortFailure | { readonly ok: true } };
  enterPreparation: { args: [site: string, carriage: string, entered: EnteredPreparation]; answer: PortFailure | { readonly assignment: Assignment } };
  changeMaterial: { args: [site: string, carriage: string, entered: EnteredMaterial]; answer: PortFailure | { readonly assignment: Assignment } };
  assignRun: { args: [run: string, assignment: Assignment, signed: Signed]; answer: PortFailure | { readonly ok: true } };
  findLog: { args: [log: NamedLog]; answer: PortFailure | { readonly runs: readonly string[] } | null };
  beginImport: { args: [log: BegunLog]; answer: PortFailure | { readonly ok: true } };
  takeSlice: { args: [slice: Uint8Array]; answer: PortFailure | { readonly stored: number } };
  endImport: { args: Parameters<ImportCalls['end']>; answer: PortFailure | ReturnType<ImportCalls['end']> };
  giveUpImport: { args: []; answer: PortFailure | { readonly ok: true } };
  addProcedure: { args: [id: string, body: string, by: string, first: boolean]; answer: PortFailure | { readonly revision: number } };
  acknowledgeAlarm: { args: [id: string, by: string, note: string | null]; answer: PortFailure | { readonly alarm: string } };
  unshelveAlarm: { args: [id: string, by: string]; answer: PortFailure | { readonly alarm: string } };
  acknowledgeAlarms: { args: [which: AlarmSelection, by: string, note: string | null]; answer: PortFailure | { readonly acknowledged: number } };
  shelveAlarm: { args: [id: string, by: string, reason: string, until: number]; answer: PortFailure | { readonly alarm: string } };
}

export type CallName = keyof WorkerCalls;

export interface CallMessage<Name extends CallName = CallName> {
  readonly type: 'call';
  readonly id: number;
  readonly name: Name;
  readonly args: WorkerCalls[Name]['args'];
}

export type ToWorker = CallMessage | { readonly type: 'damaged'; readonly what: string } | { readonly type: 'stop' };

export type FromWorker =
  | { readonly type: 'ready'; readonly url: string; readonly carriages: readonly string[] }
  | { readonly type: 'failed'; readonly reason: string }
  | { readonly type: 'event'; readonly event: LiveEvent }
  | { readonly type: 'commits'; readonly commits: readonly CommitFacts[] }
  | { readonly type: 'health'; readonly health: StorageHealth }
  | { readonly type: 'reply'; readonly id: number; readonly answer: unknown }
  | { readonly type: 'log'; readonly level: 'info' | 'warn' | 'error'; readonly text: string }
  | { readonly type: 'stopped' };
