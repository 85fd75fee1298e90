import type { Assignment } from '../../shared/weld/assignment.js';
import type { SqliteFile } from '../../shared/records/open-database.js';
import { addRevision } from '../../shared/records/procedures.js';
import type { ImportAnswer, ImportRequest, IngestPort, ItemCounters, LiveEvent, PortFailure, StorageHealth } from '../../services/ingest-port.js';

/** A port that remembers what it was asked, answers what a test sets, and really stores procedures. */
export interface FakePort extends IngestPort {
  readonly assigned: { site: string; carriage: string; assignment: Assignment | null }[];
  readonly runsAssigned: { run: string; assignment: Assignment }[];
  readonly imported: ImportRequest[];
  counted: ItemCounters;
  storage: StorageHealth;
  shown: string[];
  failure: PortFailure | null;
  importAnswer: ImportAnswer;
  tell(event: LiveEvent): void;
  listeners(): number;
}

export function fakePort(writer: SqliteFile): FakePort {
  const listeners = new Set<(event: LiveEvent) => void>();
  let created = Date.UTC(2026, 10, 23) * 1000;
  const port: FakePort = {
    assigned: [],
    runsAssigned: [],
    imported: [],
    counted: { stored: 90, duplicate: 7, refused: 3, conflict: 1, unknownFields: 2, commits: 5, commitSeconds: 0.25 },
    storage: { ok: true, reason: null, writtenAt: Date.UTC(2026, 10, 23, 8, 0, 1) },
    shown: [],
    failure: null,
    importAnswer: { runs: ['r-imported'], stored: 2, duplicate: 0, refused: [{ line: 3, reason: 'current: got "x"; taken: a number' }] },
    assign(site, carriage, assignment) {
      if (port.failure === null) port.assigned.push({ site, carriage, assignment });
      return Promise.resolve(port.failure ?? { ok: true });
    },
    assignRun(run, assignment) {
      if (port.failure === null) port.runsAssigned.push({ run, assignment });
      return Promise.resolve(port.failure ?? { ok: true });
    },
    importLog(request) {
      if (port.failure === null) port.imported.push(request);
      return Promise.resolve(port.failure ?? port.importAnswer);
    },
    addProcedure(id, body, by, first) {
      if (port.failure !== null) return Promise.resolve(port.failure);
      created += 1_000_000;
      const done = addRevision(writer, { id, body, by, created, first });
      if (done === 'exists') return Promise.resolve({ failed: 'conflict', reason: `the procedure ${id} exists` });
      if (done === 'unknown') return Promise.resolve({ failed: 'notFound', reason: `there is no procedure ${id}` });
      return Promise.resolve(done);
    },
    counters: () => port.counted,
    health: () => port.storage,
    carriages: () => port.shown,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    tell(event) {
      for (const listener of listeners) listener(event);
    },
    listeners: () => listeners.size,
  };
  return port;
}

/** One item of `GET /api/carriages`, as JSON text. */
export function carriageText(site: string, carriage: string, current: number): string {
  return JSON.stringify({
    site, carriage, online: true, welding: true, lastSeen: '2026-11-23T08:00:00.000Z', clockOffset: 0.12,
    assignment: { seam: 'DK-0417/L2', run: 1, time: '2026-11-23T07:59:00.000Z' }, run: 'r1',
    arcs: [{ arc: 1, on: true, current, voltage: 31.2, wireFeedSpeed: null, currentVariation: 0.01, voltageVariation: 0.02 }],
    travelSpeed: 520, travelled: 1284.5, seamPosition: 4775.5, arcEnergy: 2.2, heatInput: 2.2, localHeatInput: null,
  });
}
