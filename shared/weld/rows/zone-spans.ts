import { arcColumn, arcRowFlags, columnOf, hasFlag, rowLength, runColumn } from './row.js';
import { arcNumber, arcsEnd, arcStride, firstArc } from './row-group.js';
import type { RunParameters, Zone } from '../procedure/zone.js';

/** The progress of an arc's ignition zone. */
export interface Ignition {
  /** µs at which the arc was lit. */
  readonly litAt: number;
  readonly zone: 'ignition' | 'restart';
  /** Distance travelled since then, mm. */
  length: number;
  done: boolean;
}

/** The time for which one arc burns in one row, µs from the row's start, and the part of it that is `weld`. */
export interface ZoneSpan {
  readonly arc: number;
  readonly from: number;
  readonly to: number;
  weldFrom: number;
  weldTo: number;
  /** The zones of the stretch before `weldFrom` and of the one from `weldTo` on. */
  before: Zone;
  after: Zone;
}

/** When the arc begins to burn in the row, µs from the row's start; if it burnt before, a data gap may precede its values. */
function burntFrom(rows: Float64Array, own: number): number {
  const from = columnOf(rows, own, arcColumn.from);
  const gap = columnOf(rows, own, arcColumn.gap);
  return gap === 0 || hasFlag(rows, own, arcRowFlags.lit) ? from : Math.max(0, from - Math.round(gap * 1e6));
}

/** When the arc stops burning in the row, µs from the row's start. */
export function burntTo(rows: Float64Array, own: number): number {
  return Math.min(rowLength, burntFrom(rows, own) + Math.round((columnOf(rows, own, arcColumn.on) + columnOf(rows, own, arcColumn.gap)) * 1e6));
}

export function startIgnition(rows: Float64Array, own: number, again: boolean): Ignition {
  return { litAt: columnOf(rows, own, arcColumn.index) * rowLength + columnOf(rows, own, arcColumn.from), zone: again ? 'restart' : 'ignition', length: 0, done: false };
}

/** The span of an arc's row without ignition and tabs; the crater is known only later. */
export function zoneSpan(rows: Float64Array, at: number, own: number, ignition: Ignition | null, parameters: RunParameters): ZoneSpan {
  const to = burntTo(rows, own);
  const from = burntFrom(rows, own);
  const span: ZoneSpan = { arc: arcNumber(rows, own), from, to, weldFrom: from, weldTo: to, before: 'weld', after: 'weld' };
  if (ignition !== null && !ignition.done) clipIgnition(span, rows, at, own, ignition, parameters);
  clipPlaces(span, rows, at, own, parameters);
  return span;
}

/** Distance that the carriage moved while the arc burnt, data gaps included, mm. */
function movedIn(rows: Float64Array, at: number, own: number): number {
  return columnOf(rows, own, arcColumn.length) + (columnOf(rows, own, arcColumn.gap) > 0 ? columnOf(rows, at, runColumn.gapLength) : 0);
}

function clipIgnition(span: ZoneSpan, rows: Float64Array, at: number, own: number, ignition: Ignition, parameters: RunParameters): void {
  const moved = movedIn(rows, at, own);
  const byTime = ignition.litAt + parameters.ignitionTime - columnOf(rows, own, arcColumn.index) * rowLength;
  const missing = parameters.ignitionLength - ignition.length;
  // Where no speed is known, the length says nothing, and the time alone decides.
  const noSpeed = columnOf(rows, at, runColumn.speedTime) === 0 && columnOf(rows, at, runColumn.gap) === 0;
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

function clipPlaces(span: ZoneSpan, rows: Float64Array, at: number, own: number, parameters: RunParameters): void {
  const end = Math.min(parameters.weldTo, parameters.turn);
  if (parameters.weldFrom === -Infinity && end === Infinity) return;
  const way = Math.sign(columnOf(rows, at, runColumn.advance));
  const ahead = span.from < columnOf(rows, own, arcColumn.from) ? columnOf(rows, at, runColumn.gapLength) : 0;
  const start = columnOf(rows, own, arcColumn.travelled) - way * ahead - (parameters.offsets[span.arc] ?? 0);
  const moved = way * movedIn(rows, at, own);
  const endZone: Zone = parameters.turn <= parameters.weldTo ? 'overlap' : 'runOff';
  const timeAt = (place: number): number =>
    moved === 0 ? (place > start ? Infinity : -Infinity) : span.from + ((place - start) / moved) * (span.to - span.from);
  const enter = moved >= 0 ? timeAt(parameters.weldFrom) : moved < 0 && end !== Infinity ? timeAt(end) : -Infinity;
  const leave = moved >= 0 ? timeAt(end) : timeAt(parameters.weldFrom);
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

/** The arc went out at `out` (µs from the row's start), so its last seconds are the crater. */
export function clipCrater(span: ZoneSpan, out: number, craterTime: number): void {
  const begin = out - craterTime;
  if (begin < span.weldTo) {
    span.weldTo = Math.max(begin, span.from);
    span.after = 'crater';
  }
}

export function wentOut(rows: Float64Array, own: number): boolean {
  return hasFlag(rows, own, arcRowFlags.out);
}

/** Whether any of the row's arcs went out in it. */
export function anyOut(rows: Float64Array, at: number): boolean {
  const end = arcsEnd(rows, at);
  for (let own = firstArc(at); own < end; own += arcStride) if (wentOut(rows, own)) return true;
  return false;
}

/** Whether an arc went out in the row and none burns on. */
export function allOut(rows: Float64Array, at: number): boolean {
  // An arc that sent nothing throughout the row burns on, and has no row of its own.
  if (Math.round(columnOf(rows, at, runColumn.gap) * 1e6) >= rowLength - columnOf(rows, at, runColumn.from)) return false;
  let out = false;
  const end = arcsEnd(rows, at);
  for (let own = firstArc(at); own < end; own += arcStride) {
    if (wentOut(rows, own)) out = true;
    else if (columnOf(rows, own, arcColumn.on) !== 0) return false;
  }
  return out;
}
