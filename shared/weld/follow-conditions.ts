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
 * `before` are the conditions that alarms were raised for and brought in line with last: what is over and among unchanged ones is not looked at.
 */
export function followConditions(alarms: readonly AlarmFacts[], conditions: readonly AlarmCondition[], newest: number, raise: NewAlarm | null, before: readonly AlarmCondition[] = []): AlarmFacts[] {
  const changed: AlarmFacts[] = [];
  const unsettled = unsettledPart(alarms, conditions, before);
  const free = new Set(unsettled.news);
  const conditionsOf = conditionsByAlarm(unsettled.conditions);
  for (const alarm of unsettled.alarms) {
    const own = conditionsOf(alarm);
    for (const condition of own) free.delete(condition);
    const next = followed(alarm, own, newest);
    if (next !== alarm) changed.push(next);
  }
  if (raise === null) return changed;
  for (const condition of free) changed.push(followed(raise(condition), [condition], newest));
  return changed;
}

interface Part {
  readonly alarms: readonly AlarmFacts[];
  readonly conditions: readonly AlarmCondition[];
  /** Those of them that were not there before. */
  readonly news: readonly AlarmCondition[];
}

/** The alarms for which anything may have changed, and the conditions near them. */
function unsettledPart(alarms: readonly AlarmFacts[], conditions: readonly AlarmCondition[], before: readonly AlarmCondition[]): Part {
  let same = 0;
  while (same < before.length && conditions[same] === before[same]) same += 1;
  const news = conditions.slice(same);
  if (same === 0) return { alarms, conditions, news };
  let changedFrom = Infinity;
  for (const list of [before, conditions]) for (let at = same; at < list.length; at += 1) changedFrom = Math.min(changedFrom, list[at]?.from.time ?? Infinity);
  const open = alarms.filter(({ since, returnedAt }) => since >= changedFrom || returnedAt === null || returnedAt > changedFrom);
  let from = changedFrom;
  for (const { since } of open) from = Math.min(from, since);
  return { alarms: open, conditions: conditions.filter((own, at) => at >= same || own.from.time >= from || own.to === null || own.to.time > from), news };
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
