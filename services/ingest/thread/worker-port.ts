import { dirname } from 'node:path';
import { Worker } from 'node:worker_threads';
import { carriageKey } from '../../../shared/api-types/carriage-key.js';
import type { CommitFacts, IngestPort, LiveEvent, StorageHealth } from '../../ingest-port.js';
import type { Settings } from '../../settings.js';
import { countersMemory, readCounters } from '../writer/counters.js';
import { boundHeaps, youngGenerationMb } from './heap-bounds.js';
import { runImports } from './run-imports.js';
import type { CallName, FromWorker, ToWorker, WorkerCalls, WorkerStart } from './worker-protocol.js';

/** How many alarms of the service itself this thread keeps, in case the store does not have them. */
const serviceAlarmsKept = 20;

export interface StartedIngest {
  readonly port: IngestPort;
  /** The address to which carriages connect. */
  readonly mqttUrl: string;
  /** Reports damage found in the store, in words: an alarm is raised, and health mentions it. */
  readonly tellDamage: (what: string) => void;
  stop(): Promise<void>;
}

/** Starts the ingest thread, and returns the port through which HTTP talks to it. Rejects if the broker or the store is not available. */
export function startIngest(settings: Settings, databaseFile: string, log: (level: 'info' | 'warn' | 'error', text: string) => void): Promise<StartedIngest> {
  const counters = countersMemory();
  boundHeaps();
  const worker = new Worker(new URL('./ingest-worker.js', import.meta.url), {
    workerData: { settings, databaseFile, counters } satisfies WorkerStart,
    resourceLimits: { maxYoungGenerationSizeMb: youngGenerationMb },
  });
  const carriages = new Map<string, string>();
  const ofService = new Map<string, string>();
  const commitListeners = new Set<(commits: readonly CommitFacts[]) => void>();
  const listeners = new Set<(event: LiveEvent) => void>();
  const waiting = new Map<number, (answer: never) => void>();
  /** Names of the carriages in order; null if one was added or removed since. */
  let inOrder: string[] | null = null;
  let calls = 0;
  let health: StorageHealth = { ok: false, reason: 'the service is starting', writtenAt: null, damage: null };
  let stopping = false;

  function keepCarriage(data: string): void {
    const key = carriageKey(data);
    if (!carriages.has(key)) inOrder = null;
    carriages.set(key, data);
  }

  function keepServiceAlarm(data: string): void {
    const { id, site } = JSON.parse(data) as { id: string; site: string | null };
    if (site !== null) return;
    ofService.set(id, data);
    const oldest = [...ofService.keys()][0];
    if (ofService.size > serviceAlarmsKept && oldest !== undefined) ofService.delete(oldest);
  }

  function call<Name extends CallName>(name: Name, ...args: WorkerCalls[Name]['args']): Promise<WorkerCalls[Name]['answer']> {
    calls += 1;
    const id = calls;
    return new Promise((resolve) => {
      waiting.set(id, resolve);
      // A slice of a log is transferred rather than copied: this thread allocates so little itself that copies would be collected too seldom.
      worker.postMessage({ type: 'call', id, name, args }, args.flatMap((arg) => (arg instanceof Uint8Array ? [arg.buffer as ArrayBuffer] : [])));
    });
  }

  const imports = runImports(dirname(databaseFile), call);
  const port: IngestPort = {
    assign: (site, carriage, assignment, signed) => call('assign', site, carriage, assignment, signed),
    declareSensors: (site, carriage, sensors, by) => call('declareSensors', site, carriage, sensors, by),
    retireCarriage: (site, carriage) => call('retireCarriage', site, carriage),
    enterPreparation: (site, carriage, entered) => call('enterPreparation', site, carriage, entered),
    changeMaterial: (site, carriage, entered) => call('changeMaterial', site, carriage, entered),
    enterTemperature: (where, entered) => call('enterTemperature', where, entered),
    withdrawTemperature: (where, id, signed) => call('withdrawTemperature', where, id, signed),
    assignRun: (run, assignment, signed) => call('assignRun', run, assignment, signed),
    importLog: imports.run,
    addProcedure: (id, body, by, first) => call('addProcedure', id, body, by, first),
    acknowledgeAlarm: (id, by, note) => call('acknowledgeAlarm', id, by, note),
    shelveAlarm: (id, by, reason, until) => call('shelveAlarm', id, by, reason, until),
    unshelveAlarm: (id, by) => call('unshelveAlarm', id, by),
    acknowledgeAlarms: (which, by, note) => call('acknowledgeAlarms', which, by, note),
    serviceAlarms: () => [...ofService.values()].reverse(),
    counters: () => readCounters(counters),
    onCommits: (listener) => {
      commitListeners.add(listener);
      return () => commitListeners.delete(listener);
    },
    health: () => health,
    carriages: () => {
      inOrder ??= [...carriages.keys()].sort((a, b) => (a < b ? -1 : 1));
      return inOrder.map((key) => carriages.get(key) ?? '');
    },
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };

  return new Promise((resolve, reject) => {
    worker.on('message', (message: FromWorker) => {
      switch (message.type) {
        case 'ready':
          for (const data of message.carriages) keepCarriage(data);
          resolve({
            port,
            mqttUrl: message.url,
            tellDamage: (what) => { worker.postMessage({ type: 'damaged', what } satisfies ToWorker); },
            stop: () =>
              new Promise((stopped) => {
                stopping = true;
                imports.stop();
                worker.once('exit', () => { stopped(); });
                worker.postMessage({ type: 'stop' } satisfies ToWorker);
              }),
          });
          break;
        case 'failed':
          stopping = true;
          // The timers of the worker already run, and would keep the process alive.
          void worker.terminate();
          reject(new Error(message.reason));
          break;
        case 'event':
          if (message.event.event === 'carriage') keepCarriage(message.event.data);
          if (message.event.event === 'carriageGone') {
            carriages.delete(carriageKey(message.event.data));
            inOrder = null;
          }
          if (message.event.event === 'alarm') keepServiceAlarm(message.event.data);
          for (const listener of listeners) listener(message.event);
          break;
        case 'commits':
          for (const listener of commitListeners) listener(message.commits);
          break;
        case 'health':
          health = message.health;
          break;
        case 'reply':
          waiting.get(message.id)?.(message.answer as never);
          waiting.delete(message.id);
          break;
        case 'log':
          log(message.level, message.text);
          break;
        case 'stopped':
          break;
      }
    });
    worker.on('error', (error) => {
      log('error', `the ingest thread failed: ${error.stack ?? error.message}`);
      reject(error);
    });
    worker.on('exit', () => {
      if (stopping) return;
      // Nothing can be stored any more; a supervisor restarts the process and nothing acknowledged is lost.
      log('error', 'the ingest thread has ended');
      process.exit(1);
    });
  });
}
