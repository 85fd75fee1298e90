import type { AlarmProcedure, PlainAlarm } from './alarm-types.js';
import { feedMismatches } from './feed-mismatches.js';
import { hasCause } from './heat-cause.js';
import { knownRun, rowOf } from './known-run.js';
import { groupFor, zoneProcedure } from './plain-windows.js';
import { runConditions, type Condition } from './run-conditions.js';
import type { RunParts } from './split-runs.js';
import { unweldedLengths } from './unwelded-lengths.js';
import { alarmSettings } from './watched-series.js';
import { zonedRows, type PlainStream } from './zoned-rows.js';
import type { RunRowGroup } from '../named-rows.js';

/** The alarms of one run of the model. */
export interface RunAlarms {
  /** The alarms at the row `newest` (number of 100 ms since 1970); Infinity once the run is over. */
  readonly at: (newest: number) => PlainAlarm[];
  /** The border of a zone cuts a row with uneven travel, so a computation from rows alone may be a row off. */
  readonly uneven: boolean;
}

/** The identity of an excursion across the conditions of different rows. */
const identity = ({ arc, quantity, limit, from }: Condition): string => [arc, quantity, limit, from.time].join(' ');

/**
 * The rows after which an excursion may cease to exist. Each is the last one before something happens besides one row more: an arc goes out and its
 * crater is known, an arc burns that had not burnt in the run before, the carriage turns, or the run is over. In between, conditions only grow: the
 * zones and arcs of the earlier rows stay as they were, and a judged value looks ahead to nothing that is still to come. So whatever one row raised
 * is also in the conditions of the last row before the next event.
 */
function lastRows(stream: PlainStream, run: RunParts, rows: readonly RunRowGroup[]): number[] {
  const outs = run.burns.filter(({ out }) => out).map(({ to }) => rowOf(stream, to));
  const burnt = new Set<number>();
  let heading = 0;
  const last: number[] = [];
  rows.forEach((row, i) => {
    const before = rows[i - 1]?.run.index;
    const fresh = row.arcs.filter((own) => own.row.on > 0 && !burnt.has(own.arc));
    for (const { arc } of fresh) burnt.add(arc);
    const turns = row.run.advance * heading < 0;
    heading = Math.sign(row.run.advance) || heading;
    if (before !== undefined && (fresh.length > 0 || turns || outs.some((out) => before < out && out <= row.run.index))) last.push(before);
  });
  return [...last, ...rows.slice(-1).map(({ run: row }) => row.index)];
}

/**
 * The alarms of a run as a function of its newest row. The conditions of a run at a row are the excursions of its rows up to there, judged with the
 * zones known there. An excursion raises its alarm with the first row whose conditions contain it; at every later row the alarm follows the
 * excursion, and is withdrawn while that does not exist. `everyRow` computes the conditions at every row, far more slowly, to show that this changes
 * nothing.
 */
export function plainAlarms(stream: PlainStream, run: RunParts, procedure: AlarmProcedure, groups: readonly RunRowGroup[], { everyRow = false } = {}): RunAlarms {
  const rows = [...groups].sort((a, b) => a.run.index - b.run.index);
  const group = run.assignment === null ? undefined : groupFor(procedure, run.assignment.run, run.assignment.side);
  const zones = zoneProcedure(procedure, group);
  const { heatInputLength } = alarmSettings(procedure, group !== undefined);
  const whole = { stream, run, groups: rows };
  const worked = new Map<number, Condition[]>();
  const conditionsAt = (newest: number): Condition[] => {
    const conditions = worked.get(newest) ?? runConditions(knownRun(whole, newest), procedure);
    worked.set(newest, conditions);
    return conditions;
  };
  const looks = everyRow ? rows.map(({ run: row }) => row.index) : lastRows(stream, run, rows);
  const at = (newest: number): PlainAlarm[] => {
    const alarms = new Map<string, PlainAlarm>();
    for (const look of [...looks.filter((row) => row < newest), newest]) {
      const conditions = conditionsAt(look);
      const there = new Set(conditions.map(identity));
      for (const [id, alarm] of alarms) if (!there.has(id)) alarms.set(id, { ...alarm, withdrawn: true, suppressed: false });
      for (const condition of conditions) {
        const { arc, quantity, limit, worst, from, raisedAt, to } = condition;
        const id = identity(condition);
        const suppressed = hasCause(condition, conditions, heatInputLength, zones.offsets);
        alarms.set(id, { arc, quantity, limit, worst, since: from, raisedAt: alarms.get(id)?.raisedAt ?? raisedAt, returnedAt: to?.time ?? null, withdrawn: false, suppressed });
      }
    }
    const known = knownRun(whole, newest);
    return [...alarms.values(), ...unweldedLengths(stream, known.run, newest === Number.POSITIVE_INFINITY), ...feedMismatches(known, procedure)];
  };
  return { at, uneven: zonedRows(stream, run, zones, rows).some((row) => row.uneven > 1e-6) };
}
