import { alarmConditions } from '../../shared/weld/run/alarm-conditions.js';
import type { AlarmCondition } from '../../shared/weld/run/alarm-conditions.js';
import type { AlarmFacts } from '../../shared/weld/judging/alarm-life.js';
import type { FoldContext } from '../../shared/weld/run/carriage-fold.js';
import { startFold } from '../../shared/weld/run/carriage-fold.js';
import { raiseAndWithdraw } from '../../shared/weld/run/raise-and-withdraw.js';
import { addItems, startLiveFold, takeFinal } from '../../shared/weld/run/live-fold.js';
import type { OrderedItem } from '../../shared/weld/items/order.js';
import type { RunState } from '../../shared/weld/run/run-state.js';
import type { AlarmScenario } from '../model/random-alarms.js';
import { seededRandom, type Random } from '../model/seeded-random.js';
import { newAlarmFacts } from './alarm-replay.js';
import { alarmItems, alarmName } from './compare-alarms.js';

/** The longest delay of an item, µs: well within the provisional stretch. */
const mostLate = 2_000_000;

/** Moves some messages behind others that are up to 2 s later; the arcs of a message stay together. The number is an item's place in the order. */
function shuffleLate(items: readonly OrderedItem[], random: Random): { item: OrderedItem; number: number }[] {
  const late = new Map<number, number>();
  const at = (item: OrderedItem): number => {
    const { seq, time, arrived } = item;
    const delay = late.get(seq ?? -1) ?? (random.chance(0.04) ? random.whole(1, mostLate) : 0);
    late.set(seq ?? -1, delay);
    return (time ?? arrived) + delay;
  };
  return items.map((item, number) => ({ item, number, at: at(item) })).sort((a, b) => a.at - b.at);
}

/** The identity of an excursion, and so of its alarm. */
const identity = (ordinal: number, of: Pick<AlarmFacts, 'arc' | 'quantity' | 'limit'>, from: number): string => `run ${ordinal} ${alarmName(of)} from ${from}`;
const identityOf = (alarm: AlarmFacts): string => identity(Number(alarm.run), alarm, alarm.since);

/** Folds items as they come and updates the alarms of each run, by its ordinal, to its conditions. */
function livePlay(context: FoldContext) {
  const live = startLiveFold(startFold());
  const conditions = new Map<number, readonly AlarmCondition[]>();
  const written = new Map<number, RunState>();
  let facts: readonly AlarmFacts[] = [];
  let raised = 0;
  const follow = (run: RunState): void => {
    const own = facts.filter((alarm) => Number(alarm.run) === run.ordinal);
    const now = alarmConditions(run, run.finished);
    const raise = (condition: AlarmCondition): AlarmFacts => {
      raised += 1;
      return newAlarmFacts(`a${raised}`, run.ordinal, condition);
    };
    const changed = raiseAndWithdraw(own, now, raise, conditions.get(run.ordinal) ?? null);
    conditions.set(run.ordinal, now);
    const ids = new Set(changed.map(({ id }) => id));
    facts = [...facts.filter(({ id }) => !ids.has(id)), ...changed];
  };
  /** Adds items, and returns how many came too late. */
  const add = (items: readonly OrderedItem[]): number => {
    const late = addItems(live, items, context).length;
    const finished = live.stretches.flatMap(({ output }) => output.flatMap((own) => (own.type === 'finished' ? [own.run] : [])));
    const open = live.head.merge.run;
    // A run that is finished and open was lit again.
    for (const run of [...written.values(), ...finished]) if (run.ordinal !== open?.ordinal) follow(run);
    written.clear();
    if (open !== null) follow(open);
    for (const own of takeFinal(live)?.output ?? []) if (own.type === 'finished') written.set(own.run.ordinal, own.run);
    return late;
  };
  const there = (): ReadonlySet<string> => new Set([...conditions].flatMap(([ordinal, own]) => own.filter(({ lostTo }) => lostTo === null).map((condition) => identity(ordinal, condition, condition.from.time))));
  return { add, there, facts: () => facts };
}

/** Alarms that were not withdrawn, with the ends and worst values of their excursions. */
const standing = (facts: readonly AlarmFacts[]): string[] =>
  facts.filter(({ withdrawn }) => withdrawn === null).map((alarm) => `${identityOf(alarm)} to ${String(alarm.returnedAt)} worst ${String(alarm.worst)}`);

/** Reports two alarms for one excursion, withdrawn alarms whose excursion exists, and alarms without an excursion that were not withdrawn. */
function unfaithful(facts: readonly AlarmFacts[], there: ReadonlySet<string>): string[] {
  const names = facts.map(identityOf);
  return facts.flatMap((alarm, i) => {
    const name = identityOf(alarm);
    return [
      ...(names.indexOf(name) === i ? [] : [`twice: ${name}`]),
      ...(alarm.withdrawn !== null && there.has(name) ? [`withdrawn though it is there: ${name}`] : []),
      ...(alarm.withdrawn === null && !there.has(name) ? [`not withdrawn though it is there no longer: ${name}`] : []),
    ];
  });
}

/**
 * The errors of alarms when items come up to 2 s late. Late items change rows; afterwards the conditions are those of the items in order (rules,
 * sections 2 and 7). So an alarm is withdrawn while its excursion does not exist, no two alarms of a run belong to one excursion, and whenever no
 * item is missing, as at the end, the alarms that were not withdrawn equal those of the same items in order to the last bit.
 */
export function lateAlarms(scenario: AlarmScenario, seed: number): string[] {
  const { items, context } = alarmItems(scenario);
  const random = seededRandom(seed + 3_000_000);
  const shuffled = shuffleLate(items, random);
  const late = livePlay(context);
  const ordered = livePlay(context);
  const found: string[] = [];
  let newest = 0;
  let inOrder = 0;
  for (let at = 0; at < shuffled.length; ) {
    const some = shuffled.slice(at, at + random.whole(1, 10));
    at += some.length;
    newest = Math.max(newest, ...some.map(({ number }) => number + 1));
    const tooLate = late.add(some.map(({ item }) => item));
    if (tooLate > 0) found.push(`${tooLate} items came too late for the live fold`);
    found.push(...unfaithful(late.facts(), late.there()).map((line) => `after ${at} items: ${line}`));
    if (newest > at) continue;
    ordered.add(items.slice(inOrder, at));
    inOrder = at;
    const [told, expected] = [standing(late.facts()), standing(ordered.facts())];
    for (const line of expected) if (!told.includes(line)) found.push(`after ${at} items, only in order: ${line}`);
    for (const line of told) if (!expected.includes(line)) found.push(`after ${at} items, only where some came late: ${line}`);
  }
  return [...new Set(found)];
}
