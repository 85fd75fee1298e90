import type { AlarmCondition } from './alarm-conditions.js';
import type { AlarmFacts } from './alarm-life.js';
import { firstIndex } from './first-index.js';

type Judged = Pick<AlarmCondition, 'arc' | 'quantity' | 'limit'>;

/** Those of one limit, in order of where they begin. */
interface Alike {
  readonly conditions: AlarmCondition[];
  /** The latest end of any that begins no later, µs. */
  readonly latest: number[];
}

/**
 * Looks up the conditions that an alarm stands for, in the order in which they are given: the one it was raised by, and what late items have made
 * of its stretch. A run may have thousands of both, so that each alarm looks at those near it alone.
 */
export function conditionsByAlarm(conditions: readonly AlarmCondition[]): (alarm: AlarmFacts) => AlarmCondition[] {
  const places = new Map<AlarmCondition, number>();
  const byLimit = new Map<string, Alike>();
  for (const condition of conditions) {
    places.set(condition, places.size);
    const key = keyOf(condition);
    const alike = byLimit.get(key);
    if (alike === undefined) byLimit.set(key, { conditions: [condition], latest: [] });
    else alike.conditions.push(condition);
  }
  for (const alike of byLimit.values()) bringIntoOrder(alike);
  const inOrder = (a: AlarmCondition, b: AlarmCondition): number => (places.get(a) ?? 0) - (places.get(b) ?? 0);
  return (alarm) => {
    const alike = byLimit.get(keyOf(alarm));
    if (alike === undefined) return [];
    const exact = raisedBy(alarm, alike);
    // Restarts are moments of their own, though what each left unwelded stands to the end of the run.
    if (alarm.quantity === 'overlap') return exact === undefined ? [] : [exact];
    const own = overlapping(alike, alarm.since, alarm.returnedAt ?? exact?.to?.time ?? Infinity);
    if (exact !== undefined && !own.includes(exact)) own.push(exact);
    return own.sort(inOrder);
  };
}

function keyOf({ arc, quantity, limit }: Pick<AlarmFacts, 'arc' | 'quantity' | 'limit'> | Judged): string {
  return `${quantity} ${String(arc)} ${String(limit)}`;
}

function bringIntoOrder({ conditions, latest }: Alike): void {
  // What begins together stays in the order in which it was raised.
  conditions.sort((a, b) => a.from.time - b.from.time);
  let most = -Infinity;
  for (const { to } of conditions) latest.push((most = Math.max(most, to?.time ?? Infinity)));
}

function raisedBy({ since }: AlarmFacts, { conditions }: Alike): AlarmCondition | undefined {
  const first = conditions[firstIndex(conditions.length, (at) => (conditions[at]?.from.time ?? Infinity) >= since)];
  return first?.from.time === since ? first : undefined;
}

/** Those that begin before `to` and end after `from`, µs. */
function overlapping({ conditions, latest }: Alike, from: number, to: number): AlarmCondition[] {
  const begun = firstIndex(conditions.length, (at) => (conditions[at]?.from.time ?? Infinity) >= to);
  const first = firstIndex(begun, (at) => (latest[at] ?? Infinity) > from);
  return conditions.slice(first, begun).filter((condition) => from < (condition.to?.time ?? Infinity));
}
