import type { ArcRow, RunRow, RunRowGroup } from './row.js';
import { arcRowFlags, rowLength } from './row.js';
import type { RunParameters, Zone } from './zone.js';

/** How far an arc's ignition has come. */
export interface Ignition {
  /** µs at which the arc was lit. */
  readonly litAt: number;
  readonly zone: 'ignition' | 'restart';
  /** mm travelled since. */
  length: number;
  done: boolean;
}

/** One arc's burning in one row, µs from the row's start, and the part of it that is `weld`. */
export interface ZoneSpan {
  readonly arc: number;
  readonly from: number;
  readonly to: number;
  weldFrom: number;
  weldTo: number;
  /** What the stretch before `weldFrom` and the one from `weldTo` on are. */
  before: Zone;
  after: Zone;
}

/** Beginning of the arc's burning in the row, µs from the row's start; where it burnt before, a data gap may come ahead of its values. */
function burntFrom(row: ArcRow): number {
  if (row.gap === 0 || (row.flags & arcRowFlags.lit) !== 0) return row.from;
  return Math.max(0, row.from - Math.round(row.gap * 1e6));
}

/** End of the arc's burning in the row, µs from the row's start. */
export function burntTo(row: ArcRow): number {
  return Math.min(rowLength, burntFrom(row) + Math.round((row.on + row.gap) * 1e6));
}

export function startIgnition(row: ArcRow, again: boolean): Ignition {
  return { litAt: row.index * rowLength + row.from, zone: again ? 'restart' : 'ignition', length: 0, done: false };
}

/** The arc's span of the row with ignition and tabs taken out; the crater is known only later. */
export function zoneSpan(arc: number, row: ArcRow, run: RunRow, ignition: Ignition | null, parameters: RunParameters): ZoneSpan {
  const to = burntTo(row);
  const from = burntFrom(row);
  const span: ZoneSpan = { arc, from, to, weldFrom: from, weldTo: to, before: 'weld', after: 'weld' };
  if (ignition !== null && !ignition.done) clipIgnition(span, row, run, ignition, parameters);
  clipPlaces(span, row, run, parameters);
  return span;
}

function clipIgnition(span: ZoneSpan, row: ArcRow, run: RunRow, ignition: Ignition, parameters: RunParameters): void {
  const moved = row.length + (row.gap > 0 ? run.gapLength : 0);
  const byTime = ignition.litAt + parameters.ignitionTime - row.index * rowLength;
  const missing = parameters.ignitionLength - ignition.length;
  // Where no speed is known the length says nothing and the time alone decides.
  const noSpeed = run.speedTime === 0 && run.gap === 0;
  let byLength = span.from;
  if (missing > 0 && !noSpeed) byLength = moved >= missing ? span.from + (missing / moved) * (span.to - span.from) : Infinity;
  const end = Math.max(byTime, byLength);
  ignition.length += moved;
  if (end <= span.to) ignition.done = true;
  if (end > span.from) {
    span.weldFrom = Math.min(end, span.to);
    span.before = ignition.zone;
  }
}

function clipPlaces(span: ZoneSpan, row: ArcRow, run: RunRow, parameters: RunParameters): void {
  const end = Math.min(parameters.weldTo, parameters.turn);
  if (parameters.weldFrom === -Infinity && end === Infinity) return;
  const ahead = span.from < row.from ? run.gapLength : 0;
  const start = row.travelled - Math.sign(run.advance) * ahead - (parameters.offsets[span.arc] ?? 0);
  const moved = Math.sign(run.advance) * (row.length + (row.gap > 0 ? run.gapLength : 0));
  const endZone: Zone = parameters.turn <= parameters.weldTo ? 'overlap' : 'runOff';
  const at = (place: number): number =>
    moved === 0 ? (place > start ? Infinity : -Infinity) : span.from + ((place - start) / moved) * (span.to - span.from);
  const enter = moved >= 0 ? at(parameters.weldFrom) : moved < 0 && end !== Infinity ? at(end) : -Infinity;
  const leave = moved >= 0 ? at(end) : at(parameters.weldFrom);
  const enterZone = moved >= 0 ? 'runOn' : endZone;
  const leaveZone = moved >= 0 ? endZone : 'runOn';
  if (enter > span.weldFrom) {
    span.weldFrom = Math.min(enter, span.to);
    span.before = enterZone;
  }
  if (leave < span.weldTo) {
    span.weldTo = Math.max(leave, span.from);
    span.after = leaveZone;
  }
}

/** The arc went out at `out` (µs from the row's start): its last seconds are the crater. */
export function clipCrater(span: ZoneSpan, out: number, craterTime: number): void {
  const begin = out - craterTime;
  if (begin < span.weldTo) {
    span.weldTo = Math.max(begin, span.from);
    span.after = 'crater';
  }
}

export function wentOut(row: ArcRow): boolean {
  return (row.flags & arcRowFlags.out) !== 0;
}

/** Whether any of the row's arcs went out in it. */
export function anyOut({ arcs }: RunRowGroup): boolean {
  for (const { row } of arcs) if (wentOut(row)) return true;
  return false;
}

/** Whether an arc went out in the row and none burns on. */
export function allOut({ run, arcs }: RunRowGroup): boolean {
  // An arc that sent nothing in all of the row burns on, and has no row of its own.
  if (Math.round(run.gap * 1e6) >= rowLength - run.from) return false;
  let out = false;
  for (const { row } of arcs) {
    if (wentOut(row)) out = true;
    else if (row.on !== 0) return false;
  }
  return out;
}
