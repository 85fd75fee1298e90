import { deserialize, serialize } from 'node:v8';
import { alarmConditions } from '../../shared/weld/run/alarm-conditions.js';
import { acknowledgeAlarm, alarmState, shelveAlarm } from '../../shared/weld/judging/alarm-life.js';
import type { AlarmFacts, AlarmState } from '../../shared/weld/judging/alarm-life.js';
import type { AlarmCondition } from '../../shared/weld/run/alarm-conditions.js';
import type { FoldContext, FoldState } from '../../shared/weld/run/carriage-fold.js';
import { cloneFold, foldItem, startFold } from '../../shared/weld/run/carriage-fold.js';
import { raiseAndWithdraw } from '../../shared/weld/run/raise-and-withdraw.js';
import type { FoldOutput } from '../../shared/weld/run/live-fold.js';
import { collect } from '../../shared/weld/run/live-fold.js';
import type { OrderedItem } from '../../shared/weld/items/order.js';
import type { HumanAction } from '../model/alarm-states.js';
import type { Random } from '../model/seeded-random.js';
import { namedGroup } from '../named-rows.js';
import type { RunRowGroup } from '../named-rows.js';

/** The program's alarms at one moment. */
export interface AlarmLook {
  /** µs of the clock. */
  readonly now: number;
  /** Number of the newest row of each run, by its ordinal; Infinity if the run is finished. */
  readonly newest: ReadonlyMap<number, number>;
  readonly alarms: readonly { readonly facts: AlarmFacts; readonly state: AlarmState }[];
}

export interface AlarmPlay {
  readonly looks: readonly AlarmLook[];
  readonly actions: ReadonlyMap<string, readonly HumanAction[]>;
  readonly rows: ReadonlyMap<number, readonly RunRowGroup[]>;
  readonly epochs: ReadonlyMap<number, number>;
  /** Broken promises that can be seen without a model. */
  readonly problems: readonly string[];
  readonly kills: number;
}

export interface PlayOptions {
  /** The share of batches after which the process dies and starts again. */
  readonly killing: number;
  readonly mostInBatch: number;
}

interface Kept {
  facts: AlarmFacts[];
  fold: FoldState;
  /** How many items are in the fold. */
  count: number;
}

const ordinalOf = ({ run }: AlarmFacts): number => Number(run);

/** Folds items in order and follows their alarms batch by batch, with a person at work and a process that dies now and then. */
export function playAlarms(items: readonly OrderedItem[], context: FoldContext, random: Random, { killing, mostInBatch }: PlayOptions): AlarmPlay {
  const rows = new Map<number, RunRowGroup[]>();
  const epochs = new Map<number, number>();
  const actions = new Map<string, HumanAction[]>();
  const looks: AlarmLook[] = [];
  const problems: string[] = [];
  const finished = new Set<number>();
  let kept: Kept = { facts: [], fold: startFold(), count: 0 };
  let checkpoint = { fold: cloneFold(kept.fold), count: 0 };
  /** The conditions to which the alarms of each run were last updated; a process that dies forgets them. */
  const followed = new Map<number, readonly AlarmCondition[]>();
  let raised = 0;
  let kills = 0;
  let now = 0;

  const follow = (ordinal: number, conditions: readonly AlarmCondition[]): void => {
    const own = kept.facts.filter((facts) => ordinalOf(facts) === ordinal);
    const raise = (condition: AlarmCondition): AlarmFacts => {
      raised += 1;
      return newAlarmFacts(`a${raised}`, ordinal, condition);
    };
    const changed = raiseAndWithdraw(own, conditions, raise, followed.get(ordinal) ?? null);
    followed.set(ordinal, conditions);
    const byId = new Map(changed.map((facts) => [facts.id, facts]));
    for (const { id } of own) if (changed.filter((facts) => facts.id === id).length > 1) problems.push(`alarm ${id} changed twice at once`);
    const known = new Set(kept.facts.map(({ id }) => id));
    kept.facts = [...kept.facts.map((facts) => byId.get(facts.id) ?? facts), ...changed.filter(({ id }) => !known.has(id))];
  };
  const takeOutput = (output: readonly FoldOutput[], again: boolean): void => {
    for (const own of output) {
      if (own.type === 'row') {
        if (!again) rows.set(own.ordinal, [...(rows.get(own.ordinal) ?? []), namedGroup(own)]);
      } else if (own.type === 'began') finished.delete(own.ordinal);
      else {
        finished.add(own.run.ordinal);
        epochs.set(own.run.ordinal, own.run.epoch);
        follow(own.run.ordinal, alarmConditions(own.run, true));
      }
    }
  };
  const foldOn = (upTo: number, again: boolean): void => {
    const output: FoldOutput[] = [];
    for (; kept.count < upTo; kept.count += 1) {
      const item = items[kept.count];
      if (item !== undefined) foldItem(kept.fold, item, context, collect(output));
    }
    takeOutput(output, again);
    const open = kept.fold.merge.run;
    if (open === null) return;
    epochs.set(open.ordinal, open.epoch);
    follow(open.ordinal, alarmConditions(open, false));
  };
  const look = (): void => {
    const newest = new Map([...rows].map(([ordinal, own]) => [ordinal, finished.has(ordinal) ? Infinity : (own.at(-1)?.run.index ?? -Infinity)]));
    looks.push({ now, newest, alarms: kept.facts.map((facts) => ({ facts, state: alarmState(facts, now) })) });
  };
  const act = (): void => {
    const facts = kept.facts.length === 0 ? undefined : random.pick(kept.facts);
    if (facts === undefined) return;
    now += 1;
    const shelve = random.chance(0.3);
    const until = now + random.whole(1, 20) * 1_000_000;
    actions.set(facts.id, [...(actions.get(facts.id) ?? []), shelve ? { kind: 'shelve', at: now, until } : { kind: 'acknowledge', at: now }]);
    const next = shelve ? shelveAlarm(facts, 'op-07', 'tried', until) : acknowledgeAlarm(facts, 'op-07', random.chance(0.3) ? 'seen' : null, now);
    kept.facts = kept.facts.map((own) => (own.id === facts.id ? next : own));
  };
  const die = (): void => {
    kills += 1;
    followed.clear();
    const before = JSON.stringify(kept.facts);
    const upTo = kept.count;
    const from = random.pick([{ fold: startFold(), count: 0 }, checkpoint, checkpoint, kept]);
    kept = { facts: JSON.parse(before) as AlarmFacts[], fold: deserialize(serialize(from.fold)) as FoldState, count: from.count };
    foldOn(upTo, true);
    if (JSON.stringify(kept.facts) !== before) problems.push(`after a kill at item ${upTo}, folded again from item ${from.count}, alarms differ`);
  };

  while (kept.count < items.length) {
    const upTo = Math.min(items.length, kept.count + random.whole(1, random.chance(0.1) ? items.length : mostInBatch));
    foldOn(upTo, false);
    now = Math.max(now + 1, (items[upTo - 1]?.arrived ?? 0) + random.whole(0, 100_000));
    if (random.chance(0.15)) look();
    if (random.chance(0.1)) act();
    if (random.chance(0.1)) checkpoint = { fold: cloneFold(kept.fold), count: kept.count };
    if (random.chance(killing)) die();
  }
  look();
  return { looks, actions, rows, epochs, problems, kills };
}

/** A newly raised alarm of medium priority. */
export function newAlarmFacts(id: string, ordinal: number, { arc, quantity, limit, worst, from, raised, to, suppressed }: AlarmCondition): AlarmFacts {
  return {
    id, run: String(ordinal), seam: null, runNumber: null, arc, quantity, limit, worst, priority: 'medium', response: null,
    since: from.time, raisedAt: raised.time, recordedAt: null, clearedRecordedAt: null, travelled: from.travelled, seamPosition: from.travelled, returnedAt: to?.time ?? null, suppressed, withdrawn: null,
    acknowledgedAt: null, acknowledgedBy: null, note: null, shelvedUntil: null, shelvedBy: null, shelvedReason: null,
  };
}
