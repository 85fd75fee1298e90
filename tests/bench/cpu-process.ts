import { setImmediate as nextTurn } from 'node:timers/promises';
import type { IncomingMessage } from '../../services/ingest/mqtt/message-source.js';
import type * as clockModule from '../../services/ingest/clock.js';
import type * as countersModule from '../../services/ingest/writer/counters.js';
import type * as recorderModule from '../../services/ingest/writer/recorder.js';
import type * as storeModule from '../../services/ingest/store/open-store.js';
import type * as writerModule from '../../services/ingest/store/quicker-writer.js';
import type * as migrateModule from '../../shared/records/migrate.js';
import type * as databaseModule from '../../shared/records/open-database.js';
import type * as tracesModule from '../../shared/traces/sqlite-traces.js';
import type * as decodeModule from '../../shared/weld/decode/decode-readings.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { addRevision } from '../records/add-revision.js';
import { childOptions, tellParent } from './bench-child.js';
import { assignmentOf, carriageName, payloads, procedure, site, type MessageKind } from './bench-messages.js';
import { builtFile } from './built-service.js';

export interface CpuPlan {
  readonly file: string;
  readonly kind: MessageKind;
  readonly carriages: number;
  readonly count: number;
  /** Messages that wait for a commit together. */
  readonly batch: number;
}

export interface CpuFigures {
  /** µs of processor time a message: decoding alone, and everything. */
  readonly decode: number;
  readonly all: number;
  readonly commits: number;
}

/** The ingest core in this process, without a broker and without sockets: decode, order, fold, judge, store, commit. */
async function measure({ file, kind, carriages, count, batch }: CpuPlan): Promise<CpuFigures> {
  const { writeCounters, countersMemory, readCounters } = (await import(builtFile('services/ingest/writer/counters.js'))) as typeof countersModule;
  const { systemClock } = (await import(builtFile('services/ingest/clock.js'))) as typeof clockModule;
  const { createRecorder } = (await import(builtFile('services/ingest/writer/recorder.js'))) as typeof recorderModule;
  const { openStore } = (await import(builtFile('services/ingest/store/open-store.js'))) as typeof storeModule;
  const { quickerWriter } = (await import(builtFile('services/ingest/store/quicker-writer.js'))) as typeof writerModule;
  const { migrate } = (await import(builtFile('shared/records/migrate.js'))) as typeof migrateModule;
  const { openWriter } = (await import(builtFile('shared/records/open-database.js'))) as typeof databaseModule;
  const { sqliteTracesSchema } = (await import(builtFile('shared/traces/sqlite-traces.js'))) as typeof tracesModule;
  const { decodeReadings } = (await import(builtFile('shared/weld/decode/decode-readings.js'))) as typeof decodeModule;

  const db = openWriter(file);
  migrate(db, [sqliteTracesSchema]);
  const writer = await quickerWriter(file);
  const memory = countersMemory();
  const problems: string[] = [];
  const recorder = createRecorder({
    store: openStore(db, writer),
    fold: { settings: defaultWeldSettings, lateFor: 900e6 },
    clock: systemClock,
    emit: () => undefined,
    counters: writeCounters(memory),
    onCommit: () => undefined,
    publish: () => undefined,
    onHealth: () => undefined,
    log: (level, text) => { if (level !== 'info') problems.push(text); },
  });
  recorder.start();
  addRevision(db, { id: procedure.id, body: JSON.stringify(procedure), by: 'bench', created: Date.now() * 1e3, first: true });

  let waitingFor = 0;
  let go: () => void = () => undefined;
  const acknowledge = (): void => {
    waitingFor -= 1;
    if (waitingFor === 0) go();
  };
  // Waits without turning round: that would be counted as well.
  const feed = async (messages: readonly IncomingMessage[]): Promise<void> => {
    for (let at = 0; at < messages.length; at += batch) {
      const own = messages.slice(at, at + batch);
      waitingFor = own.length;
      const done = new Promise<void>((resolve) => { go = resolve; });
      for (const message of own) recorder.take(message);
      await done;
      await nextTurn();
    }
  };
  const topic = (index: number, last: string): string => `weld/${site}/${carriageName(index)}/${last}`;
  const streams = Array.from({ length: carriages }, (_, index) => [...payloads(kind, index, count, Date.now() - count * 100)]);
  await feed(streams.map((_, index) => ({ topic: topic(index, 'assignment'), payload: Buffer.from(JSON.stringify(assignmentOf(index))), retained: false, acknowledge })));
  const messages = Array.from({ length: count }, (_, seq) => streams.map((own, index) => ({ topic: topic(index, 'readings'), payload: Buffer.from(own[seq] ?? ''), retained: false, acknowledge }))).flat();
  // A third of them warms the engine up.
  const third = Math.floor(messages.length / 3);
  await feed(messages.slice(0, third));
  const commitsBefore = readCounters(memory).commits;
  const begun = process.cpuUsage();
  await feed(messages.slice(third));
  const spent = process.cpuUsage(begun);
  const { stored, refused, commits } = readCounters(memory);
  recorder.stop();
  await writer.close();
  db.close();
  if (stored !== messages.length || refused > 0 || problems.length > 0) throw new Error(`${stored} of ${messages.length} stored, ${refused} refused; ${problems.slice(0, 3).join('; ')}`);

  for (const { payload } of messages.slice(0, third)) decodeReadings(payload);
  const decodeBegun = process.cpuUsage();
  for (const { payload } of messages.slice(third)) decodeReadings(payload);
  const decoding = process.cpuUsage(decodeBegun);
  const measured = messages.length - third;
  return { decode: (decoding.user + decoding.system) / measured, all: (spent.user + spent.system) / measured, commits: commits - commitsBefore };
}

tellParent(await measure(childOptions() as CpuPlan));
process.disconnect();
