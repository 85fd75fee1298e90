import { addArcRow, cloneArcSums, startArcSums, type ArcSums } from './arc-sums.js';
import type { Moment } from '../judging/excursion-track.js';
import { cloneSmoothing, enterRow, forgetRows, startSmoothing, type SmoothingWindow } from '../judging/smoothing-window.js';
import { cloneRunJudge, startRunJudge, type RunJudge } from '../judging/judge-tracks.js';
import { clonePresent, judgePresent, startPresent, type Present } from '../judging/present.js';
import { arcColumn, arcRowFlags, columnOf, hasFlag, rowLength, runColumn } from '../rows/row.js';
import { arcNumber, arcRow, arcsEnd, arcStride, firstArc } from '../rows/row-group.js';
import { settleSeam } from '../judging/seam-judge.js';
import { endJudge, judgeRow } from '../judging/run-judge.js';
import { weldShares, type WeldShares } from '../judging/weld-shares.js';
import { anyOut, burntTo, clipCrater, startIgnition, wentOut, zoneSpan, type Ignition, type ZoneSpan } from '../rows/zone-spans.js';
import { joinArcs } from '../judging/join-arcs.js';
import type { RunParameters, Zone } from '../procedure/zone.js';
import { addWeldEnd, cloneWeldEnds, type WeldEnds } from './weld-ends.js';
import { addWeldRow, cloneWeldSums, startWeldSums, type WeldSums } from './weld-sums.js';
import { clonePendingRows, pendingRow, type PendingRow } from '../judging/pending-row.js';

/** A stretch of a run in one zone, µs of corrected time. */
export interface ZoneStretch {
  readonly zone: Zone;
  readonly from: number;
  to: number;
  /** The arcs that were in this zone (none where it is weld), or that did not pass there if that is why nothing is judged along the seam. */
  readonly arcs: readonly number[];
  readonly unpassed?: true;
}

/** The sums of a run's rows so far. Its figures are computed from these and nothing else. */
export interface RunSums {
  readonly parameters: RunParameters;
  arcs: Record<number, ArcSums>;
  ignitions: Record<number, Ignition>;
  on: number;
  length: number;
  gapLength: number;
  excluded: number;
  inside: number;
  speedTime: number;
  speed: number;
  speedSquared: number;
  minSpeed: number;
  maxSpeed: number;
  /** Distance from the run's start to where an arc last burnt, mm. */
  travelled: number;
  weldTime: number;
  /** The speed in the weld zone: s for which it is known, and its integral, mm/min·s. */
  weldSpeedTime: number;
  weldSpeed: number;
  weld: Record<number, WeldSums>;
  /** The ends of the weld zone of each arc. */
  weldEnds: Record<number, WeldEnds>;
  /** First and last moment of the weld zone. */
  weldSpan: { readonly from: Moment; readonly to: Moment } | null;
  zones: ZoneStretch[];
  /** The rows that may turn out to be the crater. */
  waiting: PendingRow[];
  /** The contributions of rows to the judged values; null without windows. */
  judged: SmoothingWindow | null;
  /** The run against its windows, over the rows that no crater can reach any more; null without windows. */
  settled: RunJudge | null;
  /** The same, including the rows that wait, for alarms; null where alarms are not needed. */
  present: Present | null;
}

export function startRunSums(parameters: RunParameters, watched = false): RunSums {
  return {
    parameters, arcs: {}, ignitions: {}, on: 0, length: 0, gapLength: 0, excluded: 0, inside: 0,
    speedTime: 0, speed: 0, speedSquared: 0, minSpeed: Infinity, maxSpeed: -Infinity, travelled: 0,
    weldTime: 0, weldSpeedTime: 0, weldSpeed: 0, weld: {}, weldEnds: {}, weldSpan: null, zones: [], waiting: [],
    judged: parameters.windows === null ? null : startSmoothing(parameters.windows),
    settled: parameters.windows === null ? null : startRunJudge(parameters.windows, parameters),
    present: watched ? startPresent(parameters) : null,
  };
}

export function cloneRunSums(sums: RunSums): RunSums {
  const arcs: Record<number, ArcSums> = {};
  for (const [arc, own] of Object.entries(sums.arcs)) arcs[Number(arc)] = cloneArcSums(own);
  const ignitions: Record<number, Ignition> = {};
  for (const [arc, own] of Object.entries(sums.ignitions)) ignitions[Number(arc)] = { ...own };
  const weld: RunSums['weld'] = {};
  for (const [arc, own] of Object.entries(sums.weld)) weld[Number(arc)] = cloneWeldSums(own);
  return {
    ...sums, arcs, ignitions, weld, weldEnds: cloneWeldEnds(sums.weldEnds), zones: sums.zones.map((stretch) => ({ ...stretch })),
    judged: sums.judged === null ? null : cloneSmoothing(sums.judged), settled: sums.settled === null ? null : cloneRunJudge(sums.settled),
    present: sums.present === null ? null : clonePresent(sums.present), waiting: clonePendingRows(sums.waiting),
  };
}

/** The entry of a row in a run without windows. */
const unjudged = { number: 0, judged: [] };

/** Adds the next group of rows, in order of its index. */
export function addRow(sums: RunSums, rows: Float64Array, at: number): void {
  const burns = columnOf(rows, at, runColumn.on) > 0 || columnOf(rows, at, runColumn.gap) > 0;
  addRun(sums, rows, at, burns);
  const spans: ZoneSpan[] = [];
  const end = arcsEnd(rows, at);
  for (let own = firstArc(at); own < end; own += arcStride) {
    const arc = arcNumber(rows, own);
    if (hasFlag(rows, own, arcRowFlags.lit)) sums.ignitions[arc] = startIgnition(rows, own, sums.arcs[arc] !== undefined);
    if (columnOf(rows, own, arcColumn.on) > 0 || hasFlag(rows, own, arcRowFlags.burning)) {
      addArcRow((sums.arcs[arc] ??= startArcSums()), rows, own);
      spans.push(zoneSpan(rows, at, own, sums.ignitions[arc] ?? null, sums.parameters));
    }
  }
  if (columnOf(rows, at, runColumn.gap) > 0) passIgnitions(sums, rows, at);
  let zoned: PendingRow | null = null;
  if (burns || anyOut(rows, at)) {
    const { number, judged } = sums.judged === null ? unjudged : enterRow(sums.judged, rows, at);
    zoned = pendingRow(rows, at, spans, number, judged);
    sums.waiting.push(zoned);
  }
  let craterFound = false;
  for (let own = firstArc(at); own < end; own += arcStride) {
    if (!wentOut(rows, own)) continue;
    markCrater(sums, arcNumber(rows, own), columnOf(rows, own, arcColumn.index) * rowLength + (columnOf(rows, own, arcColumn.on) > 0 ? burntTo(rows, own) : 0));
    craterFound = true;
  }
  if (sums.present !== null) judgePresent(sums.present, rows, at, zoned, craterFound, sums);
  // A judged value also depends on the rows of half the smoothing time after it.
  const { craterTime, windows } = sums.parameters;
  passRows(sums, (columnOf(rows, at, runColumn.index) + 1) * rowLength - Math.max(craterTime, (windows?.smoothing ?? 0) / 2 + rowLength));
}

/** Adds the carriage's part of the row. */
function addRun(sums: RunSums, rows: Float64Array, at: number, burns: boolean): void {
  sums.on += columnOf(rows, at, runColumn.on);
  sums.length += columnOf(rows, at, runColumn.length);
  sums.gapLength += columnOf(rows, at, runColumn.gapLength);
  if (burns) sums.travelled = columnOf(rows, at, runColumn.travelled) + columnOf(rows, at, runColumn.advance);
  const speedTime = columnOf(rows, at, runColumn.speedTime);
  if (!(speedTime > 0)) return;
  const minSpeed = columnOf(rows, at, runColumn.minSpeed);
  const maxSpeed = columnOf(rows, at, runColumn.maxSpeed);
  sums.speedTime += speedTime;
  sums.speed += columnOf(rows, at, runColumn.speed);
  sums.speedSquared += columnOf(rows, at, runColumn.speedSquared);
  if (minSpeed < sums.minSpeed) sums.minSpeed = minSpeed;
  if (maxSpeed > sums.maxSpeed) sums.maxSpeed = maxSpeed;
}

/** Advances the ignition zones; an arc that is lit and sends nothing still travels. */
function passIgnitions(sums: RunSums, rows: Float64Array, at: number): void {
  for (const [arc, ignition] of Object.entries(sums.ignitions)) {
    if (!ignition.done && arcRow(rows, at, Number(arc)) === null) ignition.length += columnOf(rows, at, runColumn.gapLength);
  }
}

function markCrater(sums: RunSums, arc: number, out: number): void {
  for (const { rows, at, spans } of sums.waiting) {
    for (const span of spans) {
      if (span.arc === arc) clipCrater(span, out - columnOf(rows, at, runColumn.index) * rowLength, sums.parameters.craterTime);
    }
  }
}

/** Settles the rows before `time`, since no arc can turn them into a crater any more. */
function passRows(sums: RunSums, time: number): void {
  const { waiting } = sums;
  for (let next = waiting[0]; next !== undefined && next.to.time <= time; next = waiting[0]) {
    waiting.shift();
    const shares = passRow(sums, next);
    if (sums.present !== null && sums.present.judged > 0) sums.present.judged -= 1;
    if (sums.settled === null || sums.judged === null) continue;
    judgeRow(sums.settled, sums.judged, next, shares, time !== Infinity);
    forgetRows(sums.judged, next.number);
  }
}

/** Settles all rows, since the run ends (`finished`) or is looked at while arcs burn: whatever is not a crater yet will not become one. */
export function passAllRows(sums: RunSums, finished: boolean): void {
  passRows(sums, Infinity);
  if (sums.settled === null) return;
  if (finished) endJudge(sums.settled);
  else settleSeam(sums.settled, null);
}

function passRow(sums: RunSums, row: PendingRow): WeldShares {
  const { rows, at, spans } = row;
  const shares = weldShares(row);
  const { share } = shares;
  if (spans.length > 0) {
    const length = columnOf(rows, at, runColumn.length);
    sums.inside += length * share;
    sums.excluded += length * (1 - share);
    sums.weldTime += columnOf(rows, at, runColumn.on) * share;
    const speedTime = columnOf(rows, at, runColumn.speedTime);
    if (speedTime > 0) {
      sums.weldSpeedTime += speedTime * share;
      sums.weldSpeed += columnOf(rows, at, runColumn.speed) * share;
    }
    if (share > 0) sums.weldSpan = { from: sums.weldSpan?.from ?? row.from, to: row.to };
  }
  const end = arcsEnd(rows, at);
  for (let own = firstArc(at); own < end; own += arcStride) {
    const arc = arcNumber(rows, own);
    const part = shares.arcShares[arc] ?? 0;
    if (part === 0) continue;
    addWeldRow((sums.weld[arc] ??= startWeldSums()), rows, own, part);
    addWeldEnd(sums.weldEnds, arc, row, own, part);
  }
  noteZones(sums, columnOf(rows, at, runColumn.index) * rowLength, spans);
  return shares;
}

/** Extends the list of zone stretches; the first arc that is not in `weld` decides. */
function noteZones(sums: RunSums, start: number, spans: readonly ZoneSpan[]): void {
  let span = spans[0];
  for (const own of spans) {
    if (!(own.weldFrom > own.from || own.weldTo < own.to)) continue;
    span = own;
    break;
  }
  if (span === undefined) return;
  const weldFrom = Math.min(Math.max(span.weldFrom, span.from), span.to);
  const weldTo = Math.max(Math.min(span.weldTo, span.to), weldFrom);
  const { before, after } = span;
  if (weldFrom > span.from) addStretch(sums.zones, before, start + span.from, start + weldFrom, spans.filter((own) => own.before === before && own.weldFrom > own.from));
  addStretch(sums.zones, 'weld', start + weldFrom, start + weldTo, []);
  if (weldTo < span.to) addStretch(sums.zones, after, start + weldTo, start + span.to, spans.filter((own) => own.after === after && own.weldTo < own.to));
}

function addStretch(zones: ZoneStretch[], zone: Zone, from: number, to: number, spans: readonly ZoneSpan[]): void {
  if (to <= from) return;
  const last = zones.at(-1);
  if (last === undefined || last.zone !== zone || from - last.to >= rowLength) {
    zones.push({ zone, from, to, arcs: spans.map(({ arc }) => arc) });
    return;
  }
  last.to = to;
  if (spans.some(({ arc }) => !last.arcs.includes(arc))) zones[zones.length - 1] = { ...last, arcs: joinArcs(last.arcs, spans.map(({ arc }) => arc)) };
}
