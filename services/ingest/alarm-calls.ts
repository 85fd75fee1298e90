import { acknowledgeAlarm, alarmState, shelveAlarm } from '../../shared/weld/alarm-life.js';
import type { AlarmFacts } from '../../shared/weld/alarm-life.js';
import type { PortFailure } from '../ingest-port.js';
import { alarmAnswer } from './alarm-answer.js';
import { keepAlarm } from './keep-alarms.js';
import type { Recorder } from './recorder.js';
import type { StreamAccess } from './stream-access.js';

export type AlarmChange = PortFailure | { readonly alarm: string };

/** What people do with alarms, carried out in the writer's thread. */
export interface AlarmCalls {
  acknowledge(id: string, by: string, note: string | null): AlarmChange;
  shelve(id: string, by: string, reason: string, until: number): AlarmChange;
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
  };
}

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
