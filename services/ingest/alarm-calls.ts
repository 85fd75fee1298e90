import { acknowledgeAlarm, alarmState, shelveAlarm, unshelveAlarm } from '../../shared/weld/alarm-life.js';
import type { AlarmFacts } from '../../shared/weld/alarm-life.js';
import type { AlarmSelection, PortFailure } from '../ingest-port.js';
import { alarmAnswer } from './alarm-answer.js';
import { keepAlarm } from './keep-alarms.js';
import type { Recorder } from './recorder-options.js';
import { selectedAlarms } from './selected-alarms.js';
import type { StreamAccess } from './stream-access.js';

export type AlarmChange = PortFailure | { readonly alarm: string };

/** What people do with alarms, carried out in the writer's thread. */
export interface AlarmCalls {
  acknowledge(id: string, by: string, note: string | null): AlarmChange;
  shelve(id: string, by: string, reason: string, until: number): AlarmChange;
  unshelve(id: string, by: string): AlarmChange;
  acknowledgeMany(which: AlarmSelection, by: string, note: string | null): PortFailure | { readonly acknowledged: number };
}

export function alarmCalls(recorder: Recorder): AlarmCalls {
  return {
    acknowledge: (id, by, note) =>
      recorder.change((streams) => {
        const ofService = recorder.alarms.acknowledge(id, by, note);
        if (ofService !== null) return told(ofService, null, streams);
        return changeKept(streams, id, (alarm) => acknowledgeAlarm(alarm, by, note, streams.fold.now()));
      }),
    shelve: (id, by, reason, until) =>
      recorder.change((streams) => {
        const ofService = recorder.alarms.shelve(id, by, reason, until);
        if (ofService !== null) return told(ofService, null, streams);
        return changeKept(streams, id, (alarm) =>
          alarmState(alarm, streams.fold.now()) === 'normal'
            ? { failed: 'conflict', reason: 'the alarm is back to normal: there is nothing to shelve' }
            : shelveAlarm(alarm, by, reason, until),
        );
      }),
    unshelve: (id) =>
      recorder.change((streams) => {
        const now = streams.fold.now();
        const ofService = recorder.alarms.find(id);
        if (ofService !== null && alarmState(ofService, now) !== 'shelved') return notShelved;
        const changed = recorder.alarms.unshelve(id);
        if (changed !== null) return told(changed, null, streams);
        return changeKept(streams, id, (alarm) => (alarmState(alarm, now) === 'shelved' ? unshelveAlarm(alarm) : notShelved));
      }),
    acknowledgeMany: (which, by, note) =>
      recorder.change((streams) => {
        const found = selectedAlarms(streams.fold.statements, recorder.alarms, which);
        if ('failed' in found) return found;
        const now = streams.fold.now();
        let acknowledged = 0;
        for (const { id, facts } of found.alarms) {
          const state = alarmState(facts, now);
          if (facts.acknowledgedAt !== null || state === 'normal' || state === 'suppressed' || (which.cleared && facts.returnedAt === null)) continue;
          if (recorder.alarms.acknowledge(id, by, note) === null) {
            const changed = changeKept(streams, id, (alarm) => acknowledgeAlarm(alarm, by, note, now));
            if ('failed' in changed) continue;
          }
          acknowledged += 1;
        }
        return { acknowledged };
      }),
  };
}

const notShelved: PortFailure = { failed: 'conflict', reason: 'the alarm is not shelved' };

function changeKept(streams: StreamAccess, id: string, change: (alarm: AlarmFacts) => AlarmFacts | PortFailure): AlarmChange {
  const { statements } = streams.fold;
  const row = statements.alarm.get(id);
  if (row === undefined) return { failed: 'notFound', reason: `there is no alarm ${id}` };
  const name = row.stream_id === null ? undefined : statements.streamById.get(row.stream_id);
  // One of the service that is over and done with.
  if (name === undefined) return { failed: 'conflict', reason: 'the alarm is back to normal: there is nothing to do about it' };
  const stream = streams.stream(name.site, name.carriage, name.stream);
  const changed = change(JSON.parse(row.facts) as AlarmFacts);
  if ('failed' in changed) return changed;
  keepAlarm(stream, changed, streams.fold);
  return told(changed, stream, streams);
}

function told(alarm: AlarmFacts, of: { readonly site: string; readonly carriage: string } | null, streams: StreamAccess): AlarmChange {
  return { alarm: JSON.stringify(alarmAnswer(alarm, of, streams.fold.now())) };
}
