import { acknowledgeAlarm, alarmState, shelveAlarm, unshelveAlarm, type AlarmFacts } from '../../../shared/weld/judging/alarm-life.js';
import type { AlarmSelection, PortFailure } from '../../ingest-port.js';
import { alarmAnswer } from '../alarms/alarm-answer.js';
import { saveAlarm } from '../alarms/save-alarm.js';
import type { Recorder } from '../writer/recorder-options.js';
import { selectedAlarms } from '../alarms/selected-alarms.js';
import type { AlarmRow } from '../store/statements.js';
import { noteStored } from '../fold/stored-alarms.js';
import type { StreamAccess } from '../writer/stream-access.js';
import type { StreamMemory } from '../writer/stream-memory.js';
import type { Carriage } from '../fold/carriage.js';

type AlarmChange = PortFailure | { readonly alarm: string };

/** What people do with alarms, carried out in the ingest thread. */
export interface AlarmCalls {
  readonly acknowledge: (id: string, by: string, note: string | null) => AlarmChange;
  readonly shelve: (id: string, by: string, reason: string, until: number) => AlarmChange;
  readonly unshelve: (id: string, by: string) => AlarmChange;
  readonly acknowledgeMany: (which: AlarmSelection, by: string, note: string | null) => PortFailure | { readonly acknowledged: number };
}

interface KeptAlarm {
  readonly facts: AlarmFacts;
  readonly carriage: Carriage;
}

export function alarmCalls(recorder: Recorder): AlarmCalls {
  const { alarms } = recorder;

  /** Reads what belongs to an alarm. A stored alarm of the service is in memory from then on. */
  function gather(row: AlarmRow, streams: StreamAccess): KeptAlarm | PortFailure {
    const facts = JSON.parse(row.facts) as AlarmFacts;
    const name = row.stream_id === null ? undefined : streams.statements.streamById.get(row.stream_id);
    if (row.stream_id === null) alarms.recall(facts);
    // Alarms of the service that are not in memory are back to normal.
    if (name === undefined) return { failed: 'conflict', reason: 'the alarm is back to normal: there is nothing to do about it' };
    const carriage = streams.stream(name.site, name.carriage, name.stream);
    noteStored(carriage.alarms.stored, facts, row.state, row.number);
    return { facts, carriage };
  }

  function gatherOne(id: string, streams: StreamAccess): KeptAlarm | PortFailure {
    const row = streams.statements.alarm.get(id);
    return row === undefined ? { failed: 'notFound', reason: `there is no alarm ${id}` } : gather(row, streams);
  }

  function changeOne(id: string, ofService: (now: number) => AlarmFacts | PortFailure | null, change: (alarm: AlarmFacts, now: number) => AlarmFacts | PortFailure): AlarmChange {
    return recorder.change(
      (streams) => gatherOne(id, streams),
      (kept, streams) => {
        const now = streams.fold.now();
        const changed = ofService(now);
        if (changed !== null) return 'failed' in changed ? changed : told(changed, null, now);
        return changeKept(kept, (alarm) => change(alarm, now), streams);
      },
    );
  }

  return {
    acknowledge: (id, by, note) => changeOne(id, () => alarms.acknowledge(id, by, note), (alarm, now) => acknowledgeAlarm(alarm, by, note, now)),
    shelve: (id, by, reason, until) =>
      changeOne(id, () => alarms.shelve(id, by, reason, until), (alarm, now) =>
        alarmState(alarm, now) === 'normal' ? { failed: 'conflict', reason: 'the alarm is back to normal: there is nothing to shelve' } : shelveAlarm(alarm, by, reason, until)),
    unshelve: (id) =>
      changeOne(
        id,
        (now) => {
          const ofService = alarms.find(id);
          return ofService !== null && alarmState(ofService, now) !== 'shelved' ? notShelved : alarms.unshelve(id);
        },
        (alarm, now) => (alarmState(alarm, now) === 'shelved' ? unshelveAlarm(alarm) : notShelved),
      ),
    acknowledgeMany: (which, by, note) =>
      recorder.change(
        (streams) => {
          const found = selectedAlarms(streams.statements, alarms, which);
          return 'failed' in found ? found : found.alarms.map(({ id, facts, row }) => ({ id, facts, kept: row === null ? null : gather(row, streams) }));
        },
        (found, streams) => {
          if ('failed' in found) return found;
          const now = streams.fold.now();
          let acknowledged = 0;
          for (const { id, facts, kept } of found) {
            const state = alarmState(facts, now);
            if (facts.acknowledgedAt !== null || state === 'normal' || state === 'suppressed' || (which.cleared && facts.returnedAt === null)) continue;
            if (alarms.acknowledge(id, by, note) === null) {
              if (kept === null || 'failed' in changeKept(kept, (alarm) => acknowledgeAlarm(alarm, by, note, now), streams)) continue;
            }
            acknowledged += 1;
          }
          return { acknowledged };
        },
      ),
  };
}

const notShelved: PortFailure = { failed: 'conflict', reason: 'the alarm is not shelved' };

function changeKept(kept: KeptAlarm | PortFailure, change: (alarm: AlarmFacts) => AlarmFacts | PortFailure, { fold }: StreamMemory): AlarmChange {
  if ('failed' in kept) return kept;
  const changed = change(kept.facts);
  if ('failed' in changed) return changed;
  saveAlarm(kept.carriage, changed, fold);
  return told(changed, kept.carriage, fold.now());
}

function told(alarm: AlarmFacts, of: { readonly site: string; readonly carriage: string } | null, now: number): AlarmChange {
  return { alarm: JSON.stringify(alarmAnswer(alarm, of, now)) };
}
