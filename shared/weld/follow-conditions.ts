import type { AlarmCondition } from './alarm-conditions.js';
import type { AlarmFacts } from './alarm-life.js';
import { conditionsByAlarm } from './conditions-by-alarm.js';

const withdrawnReasons = {
  crater: 'it lay in the crater: the arc went out within the time that the procedure excludes before an end',
  unpassed: 'an arc was lit later that had not passed there: heat input is judged only where every arc of the run has passed',
} as const;

/** What an alarm adds to its condition when it is raised. */
export type NewAlarm = (condition: AlarmCondition) => AlarmFacts;

/**
 * Brings the alarms of one run in line with its conditions. An alarm that stands for a condition follows it; a
 * condition that none stands for raises one, where `raise` is given. Returns the alarms that changed or are new.
 */
export function followConditions(alarms: readonly AlarmFacts[], conditions: readonly AlarmCondition[], newest: number, raise: NewAlarm | null): AlarmFacts[] {
  const changed: AlarmFacts[] = [];
  const free = new Set(conditions);
  const conditionsOf = conditionsByAlarm(conditions);
  for (const alarm of alarms) {
    const own = conditionsOf(alarm);
    for (const condition of own) free.delete(condition);
    const next = followed(alarm, own, newest);
    if (next !== alarm) changed.push(next);
  }
  if (raise === null) return changed;
  for (const condition of conditions) {
    if (!free.has(condition)) continue;
    changed.push(followed(raise(condition), [condition], newest));
  }
  return changed;
}

/** The alarm as its conditions have it; the very same where they say nothing new. */
function followed(alarm: AlarmFacts, own: readonly AlarmCondition[], newest: number): AlarmFacts {
  const last = own.at(-1);
  // Late items have shown that there was nothing; that it was raised stays a fact.
  if (last === undefined) return alarm.returnedAt === null && alarm.withdrawn === null ? { ...alarm, returnedAt: newest } : alarm;
  const open = own.find((condition) => condition.to === null && condition.withdrawn === false) ?? null;
  const decisive = open ?? own.findLast((condition) => condition.withdrawn === false) ?? last;
  const { worst, suppressed } = decisive;
  const returnedAt = decisive.to === null ? null : decisive.to.time;
  const withdrawn = decisive.withdrawn === false ? null : withdrawnReasons[decisive.withdrawn];
  const same = alarm.worst === worst && alarm.returnedAt === returnedAt && alarm.withdrawn === withdrawn && alarm.suppressed === suppressed;
  return same ? alarm : { ...alarm, worst, returnedAt, withdrawn, suppressed };
}
