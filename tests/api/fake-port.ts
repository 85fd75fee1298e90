import type { Sensors } from '../../shared/weld/procedure/sensors.js';
import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { enterPreparation } from '../../shared/weld/preparation/enter-preparation.js';
import type { SqliteFile } from '../../shared/records/open-database.js';
import { addRevision } from '../records/add-revision.js';
import type { AlarmSelection, CommitFacts, EnteredMaterial, EnteredPreparation, EnteredTemperature, ImportAnswer, ImportRequest, IngestPort, ItemCounters, LiveEvent, MeasuredWhere, PortFailure, Signed, StorageHealth } from '../../services/ingest-port.js';
import { unsentFigures } from '../unsent.js';

/** A port that remembers what it was asked, answers what a test sets, and really stores procedures. */
export interface FakePort extends IngestPort {
  readonly assigned: { site: string; carriage: string; assignment: Assignment | null }[];
  readonly runsAssigned: { run: string; assignment: Assignment }[];
  readonly declared: { site: string; carriage: string; sensors: Sensors; by: string }[];
  readonly retired: { site: string; carriage: string }[];
  readonly prepared: { site: string; carriage: string; entered: EnteredPreparation }[];
  readonly materials: { site: string; carriage: string; entered: EnteredMaterial }[];
  readonly temperatures: { where: MeasuredWhere; entered: EnteredTemperature }[];
  readonly withdrawn: { where: MeasuredWhere; id: string; signed: Signed }[];
  readonly signed: Signed[];
  readonly imported: (ImportRequest & { readonly csv: string })[];
  counted: ItemCounters;
  storage: StorageHealth;
  shown: string[];
  failure: PortFailure | null;
  importAnswer: ImportAnswer;
  /** What was asked of alarms, and the alarm that is answered. */
  readonly alarmsChanged: { id: string; by: string; note?: string | null; reason?: string; until?: number }[];
  readonly acknowledgedTogether: { which: AlarmSelection; by: string; note: string | null }[];
  alarm: string;
  ofService: string[];
  tell(event: LiveEvent): void;
  committed(commits: readonly CommitFacts[]): void;
  listeners(): number;
}

export function fakePort(writer: SqliteFile): FakePort {
  const commitListeners = new Set<(commits: readonly CommitFacts[]) => void>();
  const listeners = new Set<(event: LiveEvent) => void>();
  let created = Date.UTC(2026, 10, 23) * 1000;
  const port: FakePort = {
    assigned: [],
    runsAssigned: [],
    declared: [],
    retired: [],
    prepared: [],
    materials: [],
    temperatures: [],
    withdrawn: [],
    signed: [],
    imported: [],
    counted: { stored: 90, duplicate: 7, refused: 3, conflict: 1, unknownFields: 2, commits: 5, commitSeconds: 0.25, brokerConnects: 2, queued: 4 },
    storage: { ok: true, reason: null, writtenAt: Date.UTC(2026, 10, 23, 8, 0, 1), damage: null },
    shown: [],
    failure: null,
    importAnswer: { runs: ['r-imported'], stored: 2, duplicate: 0, lines: 3, refusedLines: 1, refused: [{ line: 3, reason: 'current: got "x"; expected: a number' }], also: [] },
    alarmsChanged: [],
    alarm: alarmText('a1', 'acknowledged'),
    acknowledgedTogether: [],
    ofService: [],
    acknowledgeAlarm(id, by, note) {
      port.alarmsChanged.push({ id, by, note });
      return Promise.resolve(port.failure ?? { alarm: port.alarm });
    },
    shelveAlarm(id, by, reason, until) {
      port.alarmsChanged.push({ id, by, reason, until });
      return Promise.resolve(port.failure ?? { alarm: port.alarm });
    },
    unshelveAlarm(id, by) {
      port.alarmsChanged.push({ id, by, reason: 'unshelve' });
      return Promise.resolve(port.failure ?? { alarm: port.alarm });
    },
    acknowledgeAlarms(which, by, note) {
      port.acknowledgedTogether.push({ which, by, note });
      return Promise.resolve(port.failure ?? { acknowledged: which.ids?.length ?? 7 });
    },
    serviceAlarms: () => port.ofService,
    assign(site, carriage, assignment, signed) {
      if (port.failure === null) port.assigned.push({ site, carriage, assignment });
      if (port.failure === null) port.signed.push(signed);
      return Promise.resolve(port.failure ?? { ok: true });
    },
    declareSensors(site, carriage, sensors, by) {
      if (port.failure !== null) return Promise.resolve(port.failure);
      port.declared.push({ site, carriage, sensors, by });
      return Promise.resolve({ revision: port.declared.length, at: created });
    },
    retireCarriage(site, carriage) {
      if (port.failure === null) port.retired.push({ site, carriage });
      return Promise.resolve(port.failure ?? { ok: true });
    },
    enterPreparation(site, carriage, entered) {
      if (port.failure !== null) return Promise.resolve(port.failure);
      port.prepared.push({ site, carriage, entered });
      const inForce: Assignment = { seam: entered.seam ?? 'DK-0417/L2', run: entered.run ?? 1, time: 1_795_590_000_000_000 };
      return Promise.resolve({ assignment: enterPreparation(inForce, entered.change, entered.by, 1_795_590_060_000_000) });
    },
    changeMaterial(site, carriage, entered) {
      if (port.failure !== null) return Promise.resolve(port.failure);
      port.materials.push({ site, carriage, entered });
      const { kind, arc, lot, mass, travelled, by } = entered;
      return Promise.resolve({ assignment: { seam: entered.seam ?? 'DK-0417/L2', run: entered.run ?? 1, materials: [{ kind, arc, lot, mass, travelled: travelled ?? 1284.5, melted: null, by, at: 1_795_590_060_000_000 }] } });
    },
    enterTemperature(where, entered) {
      if (port.failure !== null) return Promise.resolve(port.failure);
      port.temperatures.push({ where, entered });
      const { site, carriage } = 'run' in where ? { site: 'hall-2', carriage: 'c1' } : where;
      const measured = { ...entered, id: 't-1', run: 'run' in where ? where.run : null, at: entered.at ?? 1_795_590_000_000_000, seam: entered.seam ?? null, entered: 1_795_590_060_000_000, withdrawn: null };
      return Promise.resolve({ measured, site, carriage });
    },
    withdrawTemperature(where, id, signed) {
      if (port.failure !== null) return Promise.resolve(port.failure);
      port.withdrawn.push({ where, id, signed });
      return Promise.resolve({ ok: true });
    },
    assignRun(run, assignment, signed) {
      if (port.failure === null) port.runsAssigned.push({ run, assignment });
      if (port.failure === null) port.signed.push(signed);
      return Promise.resolve(port.failure ?? { ok: true });
    },
    async importLog(request, log) {
      const pieces: Uint8Array[] = [];
      for await (const piece of log) pieces.push(piece);
      if (port.failure === null) port.imported.push({ csv: Buffer.concat(pieces).toString('utf8'), ...request });
      return port.failure ?? port.importAnswer;
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
    onCommits(listener) {
      commitListeners.add(listener);
      return () => commitListeners.delete(listener);
    },
    committed(commits) {
      for (const listener of commitListeners) listener(commits);
    },
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
    arcs: [{ arc: 1, on: true, current, voltage: 31.2, ...unsentFigures, currentVariation: 0.01, voltageVariation: 0.02 }],
    travelSpeed: 520, travelled: 1284.5, seamPosition: 4775.5, arcEnergy: 2.2, heatInput: 2.2, localHeatInput: null, windows: null, alarms: [], alarmCounts: { active: 0, unacknowledged: 0, cleared: 0, shelved: 0, suppressed: 0, clearedOfRun: 0 }, outlook: { lengthToGo: 2430, endsAt: '2026-11-23T08:04:40.384Z', wire: [{ arc: 1, lengthNeeded: 5.84, massNeeded: 0.576, massLeft: 0.5, endsShortBy: 321.5 }], absent: {} }, drift: [{ arc: 1, quantity: 'voltage', limit: 34, leavesIn: 21, leavesAfter: 182 }], preparation: { missing: [{ entry: 'fluxLot', arc: null, reason: 'notEntered', value: null, against: null, min: null, max: null }] },
  });
}

/** One alarm as answers give it, as JSON text. */
export function alarmText(id: string, state: string, change: Record<string, unknown> = {}): string {
  return JSON.stringify({
    id, site: 'hall-1', carriage: 'c1', run: 'r1', seam: 'DK-0417/L2', runNumber: 1, arc: 1, quantity: 'voltage', limit: 34, worst: 35.2, priority: 'high', response: 'check the contact tube', state,
    since: '2026-11-23T08:00:10.000Z', raisedAt: '2026-11-23T08:00:11.000Z', recordedAt: '2026-11-23T08:00:11.020Z', travelled: 1284.5, seamPosition: 4775.5, acknowledgedAt: null, acknowledgedBy: null, note: null,
    returnedAt: null, clearedRecordedAt: null, shelvedUntil: null, shelvedBy: null, shelvedReason: null, withdrawn: null, ...change,
  });
}
