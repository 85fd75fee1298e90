import type { AlarmCondition } from './alarm-conditions.js';
import type { AlarmFacts, WithdrawnCode } from '../judging/alarm-life.js';

const withdrawnReasons: Readonly<Record<WithdrawnCode, string>> = {
  crater: 'it lay in the crater: the arc went out within the time that the procedure excludes before an end',
  unpassed: 'an arc was lit later that had not passed there: heat input is judged only where every arc of the run has passed',
  revised: 'what came in late for the run shows that it was none',
};

/** What an alarm adds to its condition when it is raised. */
export type NewAlarm = (condition: AlarmCondition) => AlarmFacts;

/**
 * Brings the alarms of one run in line with its conditions. The alarm of a condition follows it, one whose condition is there no longer is
 * withdrawn, and a condition without an alarm raises one, where `raise` is given. Returns the alarms that changed or are new.
 * `before` are the conditions that the alarms were brought in line with last: what is the same in both is not looked at.
 */
export function followConditions(alarms: readonly AlarmFacts[], conditions: readonly AlarmCondition[], raise: NewAlarm | null, before: readonly AlarmCondition[] | null): AlarmFacts[] {
  const { news, isSettled } = changesSince(before, conditions);
  const changed: AlarmFacts[] = [];
  const waiting = bySince(news);
  for (const alarm of alarms) {
    const alike = waiting.get(alarm.since);
    const own = alike?.find((condition) => isOf(alarm, condition));
    if (own === undefined && isSettled(alarm)) continue;
    if (own !== undefined && alike !== undefined) alike.splice(alike.indexOf(own), 1);
    const next = followed(alarm, own);
    if (next !== alarm) changed.push(next);
  }
  if (raise === null) return changed;
  for (const alike of waiting.values()) for (const condition of alike) changed.push(followed(raise(condition), condition));
  return changed;
}

/** The alarm that an excursion raised begins where it does; a run has no other of its kind there. */
function isOf(alarm: AlarmFacts, { arc, quantity, limit, from }: AlarmCondition): boolean {
  return alarm.since === from.time && alarm.arc === arc && alarm.quantity === quantity && alarm.limit === limit;
}

/** The conditions that are new or have changed, and of which alarms it is known that their conditions have not. */
function changesSince(before: readonly AlarmCondition[] | null, conditions: readonly AlarmCondition[]): { readonly news: readonly AlarmCondition[]; readonly isSettled: (alarm: AlarmFacts) => boolean } {
  if (before === null) return { news: conditions, isSettled: () => false };
  let same = 0;
  while (same < before.length && conditions[same] === before[same]) same += 1;
  const gone = bySince(before.slice(same));
  return { news: conditions.slice(same), isSettled: (alarm) => gone.get(alarm.since)?.some((condition) => isOf(alarm, condition)) !== true };
}

function bySince(conditions: readonly AlarmCondition[]): Map<number, AlarmCondition[]> {
  const found = new Map<number, AlarmCondition[]>();
  for (const condition of conditions) {
    const alike = found.get(condition.from.time);
    if (alike === undefined) found.set(condition.from.time, [condition]);
    else alike.push(condition);
  }
  return found;
}

/** The alarm as its condition has it; the very same where that says nothing new. */
function followed(alarm: AlarmFacts, condition: AlarmCondition | undefined): AlarmFacts {
  if (condition === undefined) return alarm.withdrawn === null ? { ...alarm, withdrawn: withdrawnReasons.revised, withdrawnCode: 'revised' } : alarm;
  const { worst, suppressed, to, lostTo } = condition;
  const returnedAt = to === null ? null : to.time;
  const withdrawn = lostTo === null ? null : withdrawnReasons[lostTo];
  const same = alarm.worst === worst && alarm.returnedAt === returnedAt && alarm.withdrawn === withdrawn && alarm.suppressed === suppressed;
  return same ? alarm : { ...alarm, worst, returnedAt, withdrawn, withdrawnCode: lostTo, suppressed };
}
