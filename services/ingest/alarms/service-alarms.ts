import type { ChangeSet } from '../../../shared/records/change-set.js';
import { acknowledgeAlarm, alarmState, isOver, shelveAlarm, unshelveAlarm, untouched, type AlarmFacts } from '../../../shared/weld/judging/alarm-life.js';
import { alarmAnswer } from './alarm-answer.js';
import { newAlarmId, savedAlarm, shelvingEnds } from './save-alarm.js';

export type ServiceQuantity = 'storage' | 'broker' | 'serviceClock' | 'carriages';

/** These alarms do not mean that the service is failing: people should know of them but need not act at once. */
const ofMediumPriority: ReadonlySet<ServiceQuantity> = new Set(['serviceClock', 'carriages']);

/** Alarms of the service itself. While storage is unavailable they are published at once, and written with the first commit that succeeds. */
export interface ServiceAlarms {
  raise(quantity: ServiceQuantity, reason: string): void;
  end(quantity: ServiceQuantity): void;
  /** Queues every alarm that is not yet written. Call the returned function once that is committed. */
  save(changes: ChangeSet): () => void;
  /** Whether `save` has anything to do. */
  isDue(): boolean;
  acknowledge(id: string, by: string, note: string | null): AlarmFacts | null;
  shelve(id: string, by: string, reason: string, until: number): AlarmFacts | null;
  unshelve(id: string): AlarmFacts | null;
  /** Takes back an alarm that was read from the store: unless it is back to normal, something may be done about it. */
  recall(alarm: AlarmFacts): void;
  /** The alarm as it is now; null if the service has no such alarm that is still open. */
  find(id: string): AlarmFacts | null;
}

/** `stored` are the alarms that last or are shelved. */
export function serviceAlarms(stored: readonly AlarmFacts[], now: () => number, emit: (data: string) => void): ServiceAlarms {
  /** The alarms that last, are not yet written, or still need something done. No others are kept, since nobody may ever acknowledge them. */
  let alarms = [...stored];
  const unsaved = new Set<string>();

  function put(alarm: AlarmFacts): AlarmFacts {
    alarms = [...alarms.filter((own) => own.id !== alarm.id), alarm];
    unsaved.add(alarm.id);
    emit(JSON.stringify(alarmAnswer(alarm, null, now())));
    return alarm;
  }

  function change(id: string, to: (alarm: AlarmFacts) => AlarmFacts): AlarmFacts | null {
    const alarm = alarms.find((own) => own.id === id);
    return alarm === undefined ? null : put(to(alarm));
  }

  const standing = (quantity: ServiceQuantity): AlarmFacts | undefined => alarms.find((alarm) => alarm.quantity === quantity && alarm.returnedAt === null);

  return {
    raise(quantity, reason) {
      if (standing(quantity) !== undefined) return;
      const at = now();
      put({
        id: newAlarmId(), run: null, seam: null, runNumber: null, arc: null, quantity, limit: null, worst: null, priority: ofMediumPriority.has(quantity) ? 'medium' : 'high', response: reason,
        since: at, raisedAt: at, recordedAt: at, travelled: null, seamPosition: null, ...untouched,
      });
    },
    end(quantity) {
      const alarm = standing(quantity);
      if (alarm !== undefined) put({ ...alarm, returnedAt: now(), clearedRecordedAt: now() });
    },
    save(changes) {
      for (const alarm of alarms) if (shelvingEnds(alarm, now())) put({ ...alarm, shelvedUntil: null });
      const saved = alarms.filter(({ id }) => unsaved.has(id));
      for (const alarm of saved) changes.alarms.push(savedAlarm(alarm, null, now()));
      return () => {
        // An alarm that has changed since must still be written as it is now.
        for (const alarm of saved) if (alarms.includes(alarm)) unsaved.delete(alarm.id);
        alarms = alarms.filter((alarm) => unsaved.has(alarm.id) || !isOver(alarm) || alarmState(alarm, now()) === 'shelved');
      };
    },
    isDue: () => unsaved.size > 0 || alarms.some((alarm) => shelvingEnds(alarm, now())),
    acknowledge: (id, by, note) => change(id, (alarm) => acknowledgeAlarm(alarm, by, note, now())),
    unshelve: (id) => change(id, unshelveAlarm),
    recall: (alarm) => {
      if (alarmState(alarm, now()) !== 'normal' && !alarms.some(({ id }) => id === alarm.id)) alarms.push(alarm);
    },
    find: (id) => alarms.find((own) => own.id === id) ?? null,
    shelve: (id, by, reason, until) => change(id, (alarm) => shelveAlarm(alarm, by, reason, until)),
  };
}
