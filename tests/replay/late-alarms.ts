import { alarmConditions } from '../../shared/weld/alarm-conditions.js';
import type { AlarmCondition } from '../../shared/weld/alarm-conditions.js';
import type { AlarmFacts } from '../../shared/weld/alarm-life.js';
import { startFold } from '../../shared/weld/carriage-fold.js';
import { followConditions } from '../../shared/weld/follow-conditions.js';
import { addItems, startLiveFold, takeFinal } from '../../shared/weld/live-fold.js';
import type { OrderedItem } from '../../shared/weld/order.js';
import type { RunState } from '../../shared/weld/run-state.js';
import type { AlarmScenario } from '../model/random-alarms.js';
import { seededRandom, type Random } from '../model/seeded-random.js';
import { newAlarmFacts } from './alarm-replay.js';
import { alarmItems, alarmName } from './compare-alarms.js';

/** Most that an item comes late, µs: well within what is provisional. */
const mostLate = 2_000_000;

/** Puts some messages behind others of up to 2 s later; arcs of a message travel together. */
function shuffleLate(items: readonly OrderedItem[], random: Random): OrderedItem[] {
  const late = new Map<number, number>();
  const at = (item: OrderedItem): number => {
    const { seq, time, arrived } = item;
    const delay = late.get(seq ?? -1) ?? (random.chance(0.04) ? random.whole(1, mostLate) : 0);
    late.set(seq ?? -1, delay);
    return (time ?? arrived) + delay;
  };
  return items.map((item) => ({ item, at: at(item) })).sort((a, b) => a.at - b.at).map(({ item }) => item);
}

type Stretch = Pick<AlarmFacts, 'since' | 'returnedAt'>;
const kin = (a: AlarmFacts, b: AlarmFacts): boolean => a.run === b.run && alarmName(a) === alarmName(b);
const overlap = (a: Stretch, b: Stretch): boolean => a.since < (b.returnedAt ?? Infinity) && b.since < (a.returnedAt ?? Infinity);

const together = (a: AlarmFacts, b: AlarmFacts): boolean => kin(a, b) && (a.quantity === 'overlap' ? a.since === b.since : overlap(a, b));

/** The alarms of each run when items come in this order, and those that were raised beside one that stood for the same; runs by their ordinal. */
function playLive(items: readonly OrderedItem[], scenario: AlarmScenario, random: Random): { facts: AlarmFacts[]; twice: AlarmFacts[]; late: number } {
  const { context } = alarmItems(scenario);
  const live = startLiveFold(startFold());
  let facts: AlarmFacts[] = [];
  const twice: AlarmFacts[] = [];
  const followed = new Map<number, readonly AlarmCondition[]>();
  let raised = 0;
  let late = 0;
  const written = new Map<number, RunState>();
  const follow = (run: RunState): void => {
    const own = facts.filter((alarm) => Number(alarm.run) === run.ordinal);
    const conditions = alarmConditions(run, run.finished);
    const raise = (condition: AlarmCondition): AlarmFacts => {
      raised += 1;
      return newAlarmFacts(`a${raised}`, run.ordinal, condition);
    };
    const changed = followConditions(own, conditions, raise, followed.get(run.ordinal) ?? null);
    followed.set(run.ordinal, conditions);
    const ids = new Set(changed.map(({ id }) => id));
    const others = facts.filter(({ id }) => !ids.has(id));
    // Two that were raised apart stay two where late items show that it was one excursion all along.
    for (const alarm of changed) if (own.every(({ id }) => id !== alarm.id) && [...others, ...changed].some((other) => other.id !== alarm.id && together(alarm, other))) twice.push(alarm);
    facts = [...others, ...changed];
  };
  for (let at = 0; at < items.length; ) {
    const some = items.slice(at, at + random.whole(1, 10));
    at += some.length;
    late += addItems(live, some, context).length;
    const finished = live.stretches.flatMap(({ output }) => output.flatMap((own) => (own.type === 'finished' ? [own.run] : [])));
    const open = live.head.merge.run;
    // What is both was lit again.
    for (const run of [...written.values(), ...finished]) if (run.ordinal !== open?.ordinal) follow(run);
    written.clear();
    if (open !== null) follow(open);
    for (const own of takeFinal(live)?.output ?? []) if (own.type === 'finished') written.set(own.run.ordinal, own.run);
  }
  return { facts, twice, late };
}

/**
 * What alarms do wrong where items come late by up to 2 s: those of the items in order must all be there, none twice, and what
 * only the holes had made must be over.
 */
export function lateAlarms(scenario: AlarmScenario, seed: number): string[] {
  const { items } = alarmItems(scenario);
  const random = seededRandom(seed + 3_000_000);
  const inOrder = playLive(items, scenario, random).facts;
  const { facts, twice, late } = playLive(shuffleLate(items, random), scenario, random);
  const found = late > 0 ? [`${late} items came too late for the live fold`] : [];
  const show = (alarm: AlarmFacts): string => `run ${String(alarm.run)} ${alarmName(alarm)} ${alarm.since} to ${String(alarm.returnedAt)}${alarm.withdrawn === null ? '' : ' withdrawn'}`;
  for (const alarm of inOrder) if (alarm.withdrawn === null && !facts.some((own) => together(alarm, own))) found.push(`lost: ${show(alarm)}`);
  for (const alarm of twice) found.push(`twice: ${show(alarm)}`);
  for (const alarm of facts) {
    const lasts = alarm.returnedAt === null && alarm.withdrawn === null;
    if (lasts && !inOrder.some((own) => together(alarm, own) && own.returnedAt === null)) found.push(`lasts, but not in order: ${show(alarm)}`);
  }
  return found;
}
