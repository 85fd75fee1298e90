import type { AlarmCondition } from './alarm-conditions.js';
import { checkedTemperatures } from '../temperatures/temperature-checks.js';
import type { AlarmFacts, WithdrawnCode } from '../judging/alarm-life.js';

const withdrawnReasons: Readonly<Record<WithdrawnCode, string>> = {
  crater: 'it lay in the crater: the arc went out within the time that the procedure excludes before an end',
  unpassed: 'an arc was lit later that had not passed there: heat input is judged only where every arc of the run has passed',
  revised: 'what came in late for the run shows that it was none',
  remeasured: 'another temperature of the plate counts for the run now, or none',
};

/** Makes the new alarm of a condition. */
export type NewAlarm = (condition: AlarmCondition) => AlarmFacts;

/**
 * Updates the alarms of one run from its conditions. The alarm of a condition follows it, an alarm whose condition no longer exists is withdrawn, and
 * a condition without an alarm raises one if `raise` is given. Returns the alarms that changed or are new. `before` are the conditions of the last
 * update: whatever is the same in both is not looked at.
 */
export function raiseAndWithdraw(alarms: readonly AlarmFacts[], conditions: readonly AlarmCondition[], raise: NewAlarm | null, before: readonly AlarmCondition[] | null): AlarmFacts[] {
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

/**
 * Whether an alarm is that of a condition: it begins where the condition does, and a run has no other of its kind there. One that another measurement has withdrawn
 * is over: who acknowledged it knew nothing of a later one that is outside again.
 */
function isOf(alarm: AlarmFacts, { arc, quantity, limit, from }: AlarmCondition): boolean {
  return alarm.withdrawnCode !== 'remeasured' && alarm.since === from.time && alarm.arc === arc && alarm.quantity === quantity && alarm.limit === limit;
}

/** The conditions that are new or have changed, and a test for alarms whose conditions are known not to have changed. */
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

/** The alarm updated from its condition; the same object if that says nothing new. */
function followed(alarm: AlarmFacts, condition: AlarmCondition | undefined): AlarmFacts {
  if (condition === undefined) {
    if (alarm.withdrawn !== null) return alarm;
    const code = checkedTemperatures.some((name) => name === alarm.quantity) ? 'remeasured' : 'revised';
    return { ...alarm, withdrawn: withdrawnReasons[code], withdrawnCode: code };
  }
  const { worst, suppressed, to, lostTo } = condition;
  const returnedAt = to === null ? null : to.time;
  const withdrawn = lostTo === null ? null : withdrawnReasons[lostTo];
  const same = alarm.worst === worst && alarm.returnedAt === returnedAt && alarm.withdrawn === withdrawn && alarm.suppressed === suppressed;
  return same ? alarm : { ...alarm, worst, returnedAt, withdrawn, withdrawnCode: lostTo, suppressed };
}
