import { setImmediate as yieldToOthers } from 'node:timers/promises';
import { addRevision } from '../../shared/records/procedures.js';
import type { Assignment } from '../../shared/weld/assignment.js';
import { decodeReadings } from '../../shared/weld/decode/decode-readings.js';
import type { RunMarks } from '../../shared/weld/run-figures.js';
import type { ImportAnswer, PortFailure } from '../ingest-port.js';
import { assignFinishedRun, assignStream } from './assign-stream.js';
import type { MessageSource } from './mqtt/message-source.js';
import type { Recorder } from './recorder.js';
import { StorageUnavailable } from './storage-error.js';
import type { Statements } from './statements.js';
import { takeMessage } from './take-items.js';
import type { CallMessage, CallName, ReadImport, WorkerCalls } from './worker-protocol.js';

/** Messages of a log that are taken in one commit. */
const importChunk = 500;

export interface AnsweredCalls {
  answer(call: CallMessage): Promise<WorkerCalls[CallName]['answer']>;
  carriages(): string[];
  assignmentsInForce(): { readonly topic: string; readonly payload: string }[];
}

/** What the API asks of the writer, carried out in the writer's own thread. */
export function answerCalls(recorder: Recorder, source: MessageSource, statements: Statements): AnsweredCalls {
  function assign(site: string, carriage: string, assignment: Assignment | null): { readonly ok: true } {
    recorder.change((streams) => {
      assignStream(streams.stream(site, carriage, ''), assignment, assignment?.time ?? null, streams.fold);
    });
    source.publish(`weld/${site}/${carriage}/assignment`, assignment === null ? '' : payloadOf(assignment), true);
    return { ok: true };
  }

  function assignRun(id: string, assignment: Assignment): PortFailure | { readonly ok: true } {
    return recorder.change((streams) => {
      const row = statements.run.get(id);
      if (row === undefined) return { failed: 'notFound', reason: `there is no run ${id}` };
      if (row.state !== 'finished') return { failed: 'conflict', reason: 'the run is not finished; assign its carriage instead' };
      const name = statements.streamById.get(row.stream_id);
      if (name === undefined) return { failed: 'notFound', reason: `there is no run ${id}` };
      const stream = streams.stream(name.site, name.carriage, name.stream);
      const entry = [...stream.runs.values()].find((own) => own.id === id);
      if (entry === undefined) return { failed: 'conflict', reason: 'the run is too old to be assigned' };
      assignFinishedRun(stream, entry, JSON.parse(row.marks) as RunMarks & { travelJump: boolean }, assignment, streams.fold);
      return { ok: true };
    });
  }

  async function importLog(request: ReadImport): Promise<PortFailure | ImportAnswer> {
    const { log } = request;
    const { refused } = log;
    const name = [request.site, request.carriage, log.boot] as const;
    let stored = 0;
    let duplicate = 0;
    if (request.assignment !== null) {
      const { assignment } = request;
      recorder.change((streams) => { assignStream(streams.stream(...name), assignment, null, streams.fold); });
    }
    for (let at = 0; at < log.payloads.length; at += importChunk) {
      recorder.change((streams) => {
        const stream = streams.stream(...name);
        for (const payload of log.payloads.slice(at, at + importChunk)) {
          const origin = { topic: `import ${request.site}/${request.carriage}`, kind: 'readings', payload, arrived: streams.fold.now() } as const;
          const counts = takeMessage(stream, origin, decodeReadings(payload), { statements, lateFor: streams.fold.lateFor });
          stored += counts.stored;
          duplicate += counts.duplicate;
        }
      });
      await yieldToOthers();
    }
    const runs = recorder.change((streams) => {
      const stream = streams.stream(...name);
      streams.finish(stream);
      const ids = [...stream.runs.values()].sort((a, b) => a.ordinal - b.ordinal).map((entry) => entry.id);
      return ids;
    });
    recorder.change((streams) => {
      streams.forget(streams.stream(...name));
    });
    return { runs, stored, duplicate, refused };
  }

  function addProcedure(id: string, body: string, by: string, first: boolean): PortFailure | { readonly revision: number } {
    return recorder.change((streams) => {
      const done = addRevision(streams.fold.statements.db, { id, body, by, created: streams.fold.now(), first });
      if (done === 'exists') return { failed: 'conflict', reason: `the procedure ${id} exists; add a revision to it` };
      if (done === 'unknown') return { failed: 'notFound', reason: `there is no procedure ${id}` };
      return done;
    });
  }

  async function perform(call: CallMessage): Promise<WorkerCalls[CallName]['answer']> {
    switch (call.name) {
      case 'assign':
        return assign(...(call.args as WorkerCalls['assign']['args']));
      case 'assignRun':
        return assignRun(...(call.args as WorkerCalls['assignRun']['args']));
      case 'importLog':
        return importLog(...(call.args as WorkerCalls['importLog']['args']));
      case 'addProcedure':
        return addProcedure(...(call.args as WorkerCalls['addProcedure']['args']));
    }
  }

  return {
    answer: async (call) => {
      try {
        return await perform(call);
      } catch (thrown) {
        const reason = thrown instanceof Error ? thrown.message : String(thrown);
        return { failed: thrown instanceof StorageUnavailable ? 'storage' : 'invalid', reason };
      }
    },
    carriages: () =>
      statements.liveStreams.all().flatMap((row) => {
        const snapshot = statements.streamByName.get(row.site, row.carriage, row.stream)?.snapshot ?? null;
        return snapshot === null ? [] : [snapshot];
      }),
    assignmentsInForce: () =>
      statements.liveStreams.all().flatMap((row) => {
        const last = statements.assignments.all(row.id).at(-1);
        if (last?.body == null) return [];
        return [{ topic: `weld/${row.site}/${row.carriage}/assignment`, payload: payloadOf(JSON.parse(last.body) as Assignment) }];
      }),
  };
}

/** As a carriage would send it: the time in ms. */
function payloadOf(assignment: Assignment): string {
  const { time, ...rest } = assignment;
  return JSON.stringify(time === undefined ? rest : { ...rest, time: time / 1e3 });
}
