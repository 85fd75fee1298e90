import { isDamageError } from '../../../shared/sqlite/damage.js';
import type { Assignment } from '../../../shared/weld/procedure/assignment.js';
import type { Sensors } from '../../../shared/weld/procedure/sensors.js';
import { assignmentPayload } from '../../../shared/weld/procedure/assignment-payload.js';
import type { EnteredMaterial, EnteredPreparation, PortFailure, Signed } from '../../ingest-port.js';
import { alarmCalls } from './alarm-calls.js';
import { declareSensors } from '../writer/declare-sensors.js';
import { assignFinishedRun, assignStream } from '../writer/assign-stream.js';
import type { Timers } from '../clock.js';
import { temperatureCalls } from './temperature-calls.js';
import { importCalls } from './import-calls.js';
import type { MessageSource } from '../mqtt/message-source.js';
import { changeMaterial, keepJobChange, prepareStream, type InForce } from '../writer/job-changes.js';
import { runBeingWelded } from '../answers/publish-live-state.js';
import type { Recorder } from '../writer/recorder-options.js';
import type { StreamMemory } from '../writer/stream-memory.js';
import { retireCarriage, type GoneCarriage } from '../writer/retire-carriage.js';
import { StorageUnavailable } from '../storage-error.js';
import { gatherLeaving, inForceOn } from '../writer/gather-carriage.js';
import { ensureProcedure } from '../writer/gather-names.js';
import { gatherRun } from '../writer/gather-run.js';
import type { Statements } from '../store/statements.js';
import { ensureNamed, storedInForce, streamRow } from '../writer/stream-load.js';
import { reading } from '../store/summed-rows.js';
import type { CallMessage, CallName, WorkerCalls } from './worker-protocol.js';
import { noteNewsAtOnce } from '../fold/outbox.js';
import { assignmentInForce } from '../fold/in-force.js';

export interface AnsweredCalls {
  /** Removes what is stored of a log whose import an earlier process did not finish. */
  forgetCutLogs(): void;
  answer(call: CallMessage): Promise<WorkerCalls[CallName]['answer']>;
  carriages(): string[];
  assignmentsInForce(): { readonly topic: string; readonly payload: string }[];
}

/** What the API asks of the recorder, carried out in the ingest thread. */
export function answerCalls(recorder: Recorder, source: MessageSource, statements: Statements, timers: Timers): AnsweredCalls {
  const alarms = alarmCalls(recorder);
  const logs = importCalls(recorder, statements, timers);

  function assign(site: string, carriage: string, assignment: Assignment | null, signed: Signed): { readonly ok: true } {
    const taken = recorder.change(
      (streams) => {
        ensureNamed(assignment, statements, streams.fold);
        return streams.stream(site, carriage, '');
      },
      (stream, streams) => {
        streams.hear(stream);
        const before = assignmentInForce(stream);
        assignStream(stream, assignment, assignment?.time ?? null, streams.fold);
        const after = assignmentInForce(stream);
        keepJobChange({ site, carriage, run: runBeingWelded(stream) }, before, after, signed, streams.fold);
        return after;
      },
    );
    publishAssignment(source, site, carriage, taken);
    return { ok: true };
  }

  function enter<Entered extends EnteredMaterial | EnteredPreparation>(
    site: string, carriage: string, entered: Entered, into: (found: InForce, entered: Entered, streams: StreamMemory) => PortFailure | { readonly assignment: Assignment },
  ): PortFailure | { readonly assignment: Assignment } {
    const done = recorder.change(
      (streams) => inForceOn(streams, site, carriage, entered),
      (found, streams) => ('failed' in found ? found : into(found, entered, streams)),
    );
    if ('assignment' in done) publishAssignment(source, site, carriage, done.assignment);
    return done;
  }

  function declare(site: string, carriage: string, sensors: Sensors, by: string): PortFailure | { readonly revision: number; readonly at: number } {
    return recorder.change(
      (streams) => streams.stream(site, carriage, ''),
      (stream, streams) => {
        const { fault } = stream.fold;
        if (fault !== null) return { failed: 'conflict', reason: `what is stored of ${site}/${carriage} cannot be computed, so that nothing of it is changed: ${fault}` };
        streams.hear(stream);
        const { at } = declareSensors(stream, sensors, by, streams.fold);
        noteNewsAtOnce(stream.outbox);
        return { revision: stream.intake.sensors.length, at };
      },
    );
  }

  function retire(site: string, carriage: string): PortFailure | { readonly ok: true } {
    const done = recorder.change((streams) => gatherLeaving(streams, site, carriage), (leaving, streams) => {
      const gone = 'failed' in leaving ? leaving : retireCarriage(leaving, streams);
      if (!('failed' in gone)) {
        streams.fold.emit('carriageGone', JSON.stringify(gone));
        recorder.alarms.end('carriages');
      }
      return gone;
    });
    if ('failed' in done) return done;
    for (const topic of topicsOf(done)) source.publish(topic, '', true);
    return { ok: true };
  }

  function assignRun(id: string, assignment: Assignment, signed: Signed): PortFailure | { readonly ok: true } {
    return recorder.change((streams) => gatherRun(id, assignment, streams), (run, streams) => {
      if ('failed' in run) return run;
      const { carriage: stream, entry, before, given } = run;
      const { site, carriage } = stream;
      assignFinishedRun(stream, entry, given, streams.fold);
      keepJobChange({ site, carriage, run: id }, before, given.assignment, signed, streams.fold);
      // Nothing more comes from a log.
      if (stream.kind === 'log') streams.forget(stream);
      return { ok: true };
    });
  }

  function addProcedure(id: string, body: string, by: string, first: boolean): PortFailure | { readonly revision: number } {
    return recorder.change(
      (streams) => {
        ensureProcedure(id, statements, streams.fold.procedures);
        // What is published of a carriage that waits for its next run depends on the procedure.
        for (const { site, carriage } of statements.assignedTo.all(id)) streams.stream(site, carriage, '');
        return [...streams.all.values()].filter((stream) => assignmentInForce(stream)?.procedure === id);
      },
      (assigned, streams) => {
        const { fold } = streams;
        const newest = fold.procedures.newest(id);
        if (first && newest !== null) return { failed: 'conflict', reason: `the procedure ${id} exists; add a revision to it` };
        if (!first && newest === null) return { failed: 'notFound', reason: `there is no procedure ${id}` };
        const revision = (newest ?? 0) + 1;
        fold.procedures.add(id, revision, body);
        fold.changes.procedures.push({ id, revision, created: fold.now(), by, body });
        for (const carriage of assigned) {
          noteNewsAtOnce(carriage.outbox);
          streams.woken.add(carriage);
        }
        return { revision };
      },
    );
  }

  const calls: { readonly [Name in CallName]: (...args: WorkerCalls[Name]['args']) => WorkerCalls[Name]['answer'] | Promise<WorkerCalls[Name]['answer']> } = {
    ...logs,
    assign,
    declareSensors: declare,
    retireCarriage: retire,
    enterPreparation: (site, carriage, entered) => enter(site, carriage, entered, prepareStream),
    changeMaterial: (site, carriage, entered) => enter(site, carriage, entered, changeMaterial),
    ...temperatureCalls(recorder),
    assignRun,
    addProcedure,
    acknowledgeAlarm: alarms.acknowledge,
    unshelveAlarm: alarms.unshelve,
    acknowledgeAlarms: alarms.acknowledgeMany,
    shelveAlarm: alarms.shelve,
  };

  /** What `tell` returns for each carriage, leaving out those that differ from what was written: these are reported when they are loaded. */
  function soundOnes<Told>(tell: (carriage: { readonly id: number; readonly site: string; readonly carriage: string }) => Told[]): Told[] {
    return statements.liveStreams.all().flatMap((row) => {
      try {
        return reading(`what is known of ${row.site}/${row.carriage}`, () => tell(row));
      } catch (thrown) {
        if (!isDamageError(thrown)) throw thrown;
        return [];
      }
    });
  }

  return {
    forgetCutLogs: () => { logs.giveUpImport().catch(() => undefined); },
    answer: async ({ name, args }) => {
      const perform = calls[name] as (...args: readonly unknown[]) => WorkerCalls[CallName]['answer'] | Promise<WorkerCalls[CallName]['answer']>;
      try {
        return await perform(...args);
      } catch (thrown) {
        const reason = thrown instanceof Error ? thrown.message : String(thrown);
        return { failed: thrown instanceof StorageUnavailable || isDamageError(thrown) ? 'storage' : 'invalid', reason };
      }
    },
    carriages: () =>
      soundOnes(({ id, site, carriage }) => {
        const { snapshot } = streamRow(statements, id, `${site}/${carriage}`);
        return snapshot === null ? [] : [snapshot];
      }),
    assignmentsInForce: () =>
      soundOnes(({ id, site, carriage }) => {
        const body = storedInForce(statements, id);
        return body === null ? [] : [{ topic: `weld/${site}/${carriage}/assignment`, payload: JSON.stringify(assignmentPayload(body)) }];
      }),
  };
}

/** The topics of a carriage that may have a retained message. */
export function topicsOf({ site, carriage }: GoneCarriage): string[] {
  return ['assignment', 'status', 'alarms', 'stored'].map((kind) => `weld/${site}/${carriage}/${kind}`);
}

function publishAssignment(source: MessageSource, site: string, carriage: string, assignment: Assignment | null): void {
  source.publish(`weld/${site}/${carriage}/assignment`, assignment === null ? '' : JSON.stringify(assignmentPayload(assignment)), true);
}
