import type { CommitFacts, IngestPort, LiveEvent, PortFailure, StorageHealth } from '../../ingest-port.js';
import type { Settings } from '../../settings.js';
import type { ImportCalls } from './import-calls.js';

/** What the ingest thread is started with. */
export interface WorkerStart {
  readonly settings: Settings;
  readonly databaseFile: string;
  readonly counters: SharedArrayBuffer;
}

/** What HTTP asks of the recorder. */
type Calls = ImportCalls &
  Pick<IngestPort, 'assign' | 'declareSensors' | 'retireCarriage' | 'enterPreparation' | 'changeMaterial' | 'enterTemperature' | 'withdrawTemperature' | 'assignRun' | 'addProcedure' | 'acknowledgeAlarm' | 'unshelveAlarm' | 'acknowledgeAlarms' | 'shelveAlarm'>;

/** The calls between the threads: name, arguments and answer. */
export type WorkerCalls = { readonly [Name in keyof Calls]: { readonly args: Parameters<Calls[Name]>; readonly answer: PortFailure | Awaited<ReturnType<Calls[Name]>> } };

export type CallName = keyof WorkerCalls;

export interface CallMessage {
  readonly type: 'call';
  readonly id: number;
  readonly name: CallName;
  readonly args: WorkerCalls[CallName]['args'];
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
