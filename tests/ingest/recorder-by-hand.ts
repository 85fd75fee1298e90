import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { LiveEvent, StorageHealth } from '../../services/ingest-port.js';
import { countersMemory, readCounters, writeCounters } from '../../services/ingest/writer/counters.js';
import { createRecorder } from '../../services/ingest/writer/recorder.js';
import type { Recorder } from '../../services/ingest/writer/recorder-options.js';
import { openStore } from '../../services/ingest/store/open-store.js';
import { inlineWriter } from '../../services/ingest/store/store-writer.js';
import type { StoreWriter } from '../../services/ingest/store/store-writer.js';
import { answerCalls } from '../../services/ingest/thread/worker-calls.js';
import type { AnsweredCalls } from '../../services/ingest/thread/worker-calls.js';
import { migrate } from '../../shared/records/migrate.js';
import { openWriter } from '../../shared/records/open-database.js';
import type { SqliteFile } from '../../shared/records/open-database.js';
import { sqliteTracesSchema } from '../../shared/traces/sqlite-traces.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { clockByHand, type ClockByHand } from './clock-by-hand.js';

export interface RecorderByHand {
  /** Where the store is, as seamwarden.db. */
  readonly folder: string;
  readonly db: SqliteFile;
  readonly clock: ClockByHand;
  readonly recorder: Recorder;
  readonly calls: AnsweredCalls;
  readonly events: LiveEvent[];
  readonly problems: string[];
  /** What was published retained, in order. */
  readonly published: { readonly topic: string; readonly payload: string }[];
  health: StorageHealth | null;
  /** How many messages were acknowledged. */
  acknowledged: number;
  take(topic: string, payload: unknown): void;
  /** Sends readings of hall/c1 at 10 Hz, from the seq `from` up to `to` (excluded), as time passes; `start` is the time of seq 0, ms since 1970. */
  send(start: number, from: number, to: number, current?: number): void;
  /** The stored records, the oldest first. */
  records(table: 'runs' | 'alarms'): unknown[];
  counted(): ReturnType<typeof readCounters>;
  /** Stops or kills the process, and starts it again. */
  restart(how: 'stopped' | 'killed'): void;
  close(): void;
}

/**
 * The recorder over a separate store, with a clock that is moved by hand. `watched` wraps the file by which it reads and writes, and `writerOf` makes
 * its writer.
 */
export function recorderByHand(watched: (db: SqliteFile) => SqliteFile = (db) => db, writerOf: (db: SqliteFile) => StoreWriter = inlineWriter): RecorderByHand {
  const folder = mkdtempSync(join(tmpdir(), 'seamwarden-recorder-'));
  const db = openWriter(join(folder, 'seamwarden.db'));
  migrate(db, [sqliteTracesSchema]);
  const memory = countersMemory();
  const open = (clock: ClockByHand): Pick<RecorderByHand, 'clock' | 'recorder' | 'calls'> => {
    const file = watched(db);
    const store = openStore(file, writerOf(file));
    const recorder = createRecorder({
      store,
      clock,
      fold: { settings: defaultWeldSettings, lateFor: 900e6 },
      counters: writeCounters(memory),
      emit: (event, data) => own.events.push({ event, data }),
      onCommit: () => undefined,
      publish: (topic, payload) => void own.published.push({ topic, payload }),
      onHealth: (health) => { own.health = health; },
      log: (level, text) => { if (level === 'error') own.problems.push(text); },
    });
    const source = { start: () => Promise.resolve({ url: '' }), publish: () => undefined, hold: () => undefined, stop: () => Promise.resolve() };
    return { clock, recorder, calls: answerCalls(recorder, source, store.statements, clock) };
  };
  const own: RecorderByHand & { -readonly [Name in 'clock' | 'recorder' | 'calls']: RecorderByHand[Name] } = {
    folder, db, ...open(clockByHand(Date.UTC(2026, 10, 25))), events: [], problems: [], published: [], health: null, acknowledged: 0,
    take: (topic, payload) => {
      own.recorder.take({ topic, payload: Buffer.from(typeof payload === 'string' ? payload : JSON.stringify(payload)), retained: false, acknowledge: () => { own.acknowledged += 1; } });
    },
    send: (start, from, to, current = 600) => {
      for (let seq = from; seq < to; seq += 1) {
        own.take('weld/hall/c1/readings', { boot: 'b1', seq, time: start + seq * 100, current, voltage: current === 0 ? 0 : 30, travelSpeed: 550 });
        own.clock.pass(100);
      }
    },
    records: (table) => db.prepare<[], { record: string }>(`select record from ${table} order by ${table === 'runs' ? 'started' : 'number'}`).all().map(({ record }) => JSON.parse(record) as unknown),
    counted: () => readCounters(memory),
    restart: (how) => {
      if (how === 'stopped') own.recorder.stop();
      Object.assign(own, open(clockByHand(own.clock.now() / 1e3)));
      own.recorder.start();
    },
    close: () => {
      own.recorder.stop();
      db.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
  own.recorder.start();
  return own;
}
