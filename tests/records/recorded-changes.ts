import { assignFinishedRun } from '../../services/ingest/writer/assign-stream.js';
import { declareSensors } from '../../services/ingest/writer/declare-sensors.js';
import { keepJobChange } from '../../services/ingest/writer/job-changes.js';
import { acknowledgeAlarm } from '../../shared/weld/judging/alarm-life.js';
import { saveAlarm } from '../../services/ingest/alarms/save-alarm.js';
import { ensureProcedure } from '../../services/ingest/writer/gather-names.js';
import { keepMeasurement, newMeasurement, withdrawnMeasurement } from '../../services/ingest/writer/enter-temperature.js';
import { gatherRun } from '../../services/ingest/writer/gather-run.js';
import { gatherEntered, gatherWithdrawn } from '../../services/ingest/writer/gather-temperature.js';
import type { StreamAccess } from '../../services/ingest/writer/stream-access.js';
import type { ChangeSet } from '../../shared/records/change-set.js';
import { commit, dropAll, finishAll, hall, killed, storedRuns } from '../ingest/arrive.js';
import { openStreams, type OpenStreams } from '../ingest/open-streams.js';

const start = Date.UTC(2026, 10, 25);
const procedure = { id: 'P-1', runGroups: [{ runs: [1, 9], arcs: [{ arc: 1, voltage: { min: 29, max: 31 } }] }], alarm: { smoothing: 0.2, onDelay: 0.2, offDelay: 0.2 } };

/** Invented: 600 A at 500 mm/min, 34 V in two of every ten seconds, where `on`. */
function send(own: OpenStreams, carriage: string, from: number, to: number, on: boolean): void {
  for (let at = from; at < to; at += 40) {
    commit(own, () => {
      const readings = Array.from({ length: Math.min(40, to - at) }, (_, k) => ({ boot: 'b1', seq: at + k, time: start + (at + k) * 100, current: on ? 600 : 0, voltage: on ? ((at + k) % 100 < 20 ? 34 : 30) : 0, travelSpeed: 500 }));
      own.take(`weld/${hall}/${carriage}/readings`, JSON.stringify(readings));
    });
    own.now += 1_500_000;
  }
}

/** What is stored while two carriages weld, and after it: every list of a change set has entries in some of them. `digests` are those of the store that they made. */
export function recordedChanges<Digests>(digests: (db: OpenStreams['db']) => Digests): { readonly changes: readonly ChangeSet[]; readonly digests: Digests } {
  const own = openStreams(undefined, { checkpointEvery: 5_000_000 });
  try {
    commit(own, () => {
      const { fold, statements } = own.streams();
      ensureProcedure(procedure.id, statements, fold.procedures);
      fold.changes.procedures.push({ id: procedure.id, revision: 1, created: own.now, by: 'qa', body: JSON.stringify(procedure) });
      fold.procedures.add(procedure.id, 1, JSON.stringify(procedure));
      fold.changes.probe = own.now;
    });
    commit(own, () => { own.take(`weld/${hall}/c1/assignment`, JSON.stringify({ seam: 'S1', run: 1, procedure: procedure.id })); });
    commit(own, () => {
      const { fold } = own.streams();
      declareSensors(own.streams().stream(hall, 'c1', ''), { travelSource: 'encoder' }, 'qa', fold);
    });
    send(own, 'c1', 0, 400, true);
    // Items without a sequence, unusable items, and items that lie far back.
    commit(own, () => {
      own.take(`weld/${hall}/c2/readings`, JSON.stringify([0, 1, 2].map((at) => ({ time: start + at * 100, current: 600, voltage: 30, travelSpeed: 500 }))));
      own.take(`weld/${hall}/c2/readings`, 'no JSON');
      for (let seq = 0; seq < 5; seq += 1) own.take(`weld/${hall}/c2/readings`, JSON.stringify({ boot: 'b1', seq, time: start + 400 + seq * 100, interval: 1, current: Array.from({ length: 100 }, () => 600), voltage: 30, travelSpeed: 500 }));
      own.take(`weld/${hall}/c2/status`, 'online');
    });
    send(own, 'c1', 440, 600, true);
    send(own, 'c1', 400, 440, true);
    send(own, 'c1', 600, 640, false);
    commit(own, () => { own.take(`weld/${hall}/c1/assignment`, ''); });
    send(own, 'c1', 640, 700, false);
    finishAll(own);
    const [run] = storedRuns(own, 'c1');
    assignAfterwards(own, run?.id ?? '');
    acknowledge(own);
    measure(own, run?.id ?? '');
    killed(own);
    own.now += 1_000e6;
    finishAll(own);
    send(own, 'c1', 700, 740, false);
    commit(own, () => { dropAll(own); });
    // Of a run that is decided by then.
    commit(own, () => { own.take(`weld/${hall}/c1/readings`, JSON.stringify({ boot: 'b1', seq: 50, arc: 2, time: start + 5_000, current: 600, voltage: 30 })); });
    const stream = own.streams().stream(hall, 'c2', '').id;
    const { changes } = own.streams().fold;
    const { imports, clockSteps, drops } = changes;
    changes.newestCheckpoint = own.now;
    imports.push({ stream, at: own.now, file: 'log.csv', by: 'op-07', zero: null }, { stream, runs: '[]', finished: own.now });
    clockSteps.push(3_600_000_000);
    drops.push({ refused: 1_000 }, { times: stream, arc: 1, keep: 1 });
    const { db } = own;
    return { changes: structuredClone(own.applied), digests: digests(db) };
  } finally {
    own.close();
  }
}

function assignAfterwards(own: OpenStreams, id: string): void {
  commit(own, () => {
    const streams = own.streams();
    const found = gatherRun(id, { seam: 'S2', run: 4, procedure: procedure.id }, streams);
    if ('failed' in found) throw new Error(found.reason);
    assignFinishedRun(found.carriage, found.entry, found.given, streams.fold);
    keepJobChange({ site: hall, carriage: 'c1', run: id }, found.before, found.given.assignment, { by: 'qa-1', reason: 'the wrong job' }, streams.fold);
    streams.fold.changes.taken.push({ stream: found.carriage.id, message: '7 digest' });
  });
}

/** Enters a temperature at a run, and withdraws it. */
function measure(own: OpenStreams, run: string): void {
  const entered = { kind: 'interpass', value: 150, at: null, seam: undefined, place: 'ahead', seamPosition: 12.5, distance: 50, instrument: 'T-1', by: 'op-07', reason: 'late' } as const;
  let id = '';
  for (const gather of [
    (streams: StreamAccess) => gatherEntered({ run }, (carriage, of) => newMeasurement(carriage, of, entered, streams.fold), streams),
    (streams: StreamAccess) => gatherWithdrawn({ run }, id, (measured) => withdrawnMeasurement(measured, { by: 'qa-1', reason: null }, streams.fold), streams),
  ]) {
    commit(own, () => {
      const found = gather(own.streams());
      if ('failed' in found) throw new Error(found.reason);
      keepMeasurement(found, own.streams());
      id = found.measured.id;
    });
  }
}

function acknowledge(own: OpenStreams): void {
  commit(own, () => {
    const { fold } = own.streams();
    const carriage = own.streams().stream(hall, 'c1', '');
    for (const { facts } of [...carriage.alarms.stored.known.values()]) saveAlarm(carriage, acknowledgeAlarm(facts, 'op-07', 'seen', own.now), fold);
  });
}
