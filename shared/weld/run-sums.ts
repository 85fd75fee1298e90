import type { ArcSums } from './arc-sums.js';
import { addArcRow, cloneArcSums, startArcSums } from './arc-sums.js';
import type { Moment } from './excursion-track.js';
import type { JudgedRows } from './judged-rows.js';
import { cloneJudgedRows, enterRow, forgetRows, startJudgedRows } from './judged-rows.js';
import type { RunJudge } from './judge-tracks.js';
import { cloneRunJudge, startRunJudge } from './judge-tracks.js';
import type { Present } from './present.js';
import { clonePresent, judgePresent, startPresent } from './present.js';
import type { RunRowGroup } from './row.js';
import { arcRowFlags, rowLength } from './row.js';
import { judgeRow } from './run-judge.js';
import type { WeldShares } from './weld-shares.js';
import { weldShares } from './weld-shares.js';
import type { Ignition, ZoneSpan } from './zone-spans.js';
import { joinArcs } from './join-arcs.js';
import { anyOut, burntTo, clipCrater, startIgnition, wentOut, zoneSpan } from './zone-spans.js';
import type { RunParameters, Zone } from './zone.js';
import type { ZonedRow } from './zoned-row.js';
import { cloneZonedRow, zonedRow } from './zoned-row.js';

/** A stretch of a run in one zone, µs of corrected time. */
export interface ZoneStretch {
  readonly zone: Zone;
  readonly from: number;
  to: number;
  /** Arcs that were in this zone, none where it is weld; or that did not pass there, where that is why heat input is not judged. */
  readonly arcs: readonly number[];
  readonly unpassed?: true;
}

/** What the rows of a run add up to so far. Its figures are made from this and nothing else. */
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
  /** mm from the run's start to where an arc burnt last. */
  travelled: number;
  weldTime: number;
  weld: Record<number, { energy: number; length: number }>;
  /** First and last moment of the weld zone. */
  weldSpan: { readonly from: Moment; readonly to: Moment } | null;
  zones: ZoneStretch[];
  /** Rows that may turn out to be the crater. */
  waiting: ZonedRow[];
  /** What rows bring to the values that are judged; null without windows. */
  judged: JudgedRows | null;
  /** The run against its windows, over the rows that no crater can reach any more; null without any. */
  settled: RunJudge | null;
  /** The same with the rows that wait, for alarms; null where nobody watches. */
  present: Present | null;
}

export function startRunSums(parameters: RunParameters, watched = false): RunSums {
  return {
    parameters, arcs: {}, ignitions: {}, on: 0, length: 0, gapLength: 0, excluded: 0, inside: 0,
    speedTime: 0, speed: 0, speedSquared: 0, minSpeed: Infinity, maxSpeed: -Infinity, travelled: 0,
    weldTime: 0, weld: {}, weldSpan: null, zones: [], waiting: [],
    judged: parameters.windows === null ? null : startJudgedRows(parameters.windows),
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
  for (const [arc, own] of Object.entries(sums.weld)) weld[Number(arc)] = { ...own };
  return {
    ...sums, arcs, ignitions, weld,
    zones: sums.zones.map((stretch) => ({ ...stretch })),
    judged: sums.judged === null ? null : cloneJudgedRows(sums.judged),
    settled: sums.settled === null ? null : cloneRunJudge(sums.settled),
    present: sums.present === null ? null : clonePresent(sums.present),
    waiting: sums.waiting.map(cloneZonedRow),
  };
}

/** Of a run without windows. */
const unjudged = { number: 0, judged: [] };

/** Adds the next row, in order of its index. */
export function addRow(sums: RunSums, group: RunRowGroup): void {
  const { run } = group;
  sums.on += run.on;
  sums.length += run.length;
  sums.gapLength += run.gapLength;
  if (run.on > 0 || run.gap > 0) sums.travelled = run.travelled + run.advance;
  if (run.speedTime > 0) {
    sums.speedTime += run.speedTime;
    sums.speed += run.speed;
    sums.speedSquared += run.speedSquared;
    if (run.minSpeed < sums.minSpeed) sums.minSpeed = run.minSpeed;
    if (run.maxSpeed > sums.maxSpeed) sums.maxSpeed = run.maxSpeed;
  }
  const spans: ZoneSpan[] = [];
  for (const { arc, row } of group.arcs) {
    if ((row.flags & arcRowFlags.lit) !== 0) sums.ignitions[arc] = startIgnition(row, sums.arcs[arc] !== undefined);
    if (row.on > 0 || (row.flags & arcRowFlags.burning) !== 0) {
      addArcRow((sums.arcs[arc] ??= startArcSums()), row);
      spans.push(zoneSpan(arc, row, run, sums.ignitions[arc] ?? null, sums.parameters));
    }
  }
  if (run.gap > 0) passIgnitions(sums, group);
  let zoned: ZonedRow | null = null;
  if (run.on > 0 || run.gap > 0 || anyOut(group)) {
    const { number, judged } = sums.judged === null ? unjudged : enterRow(sums.judged, group);
    zoned = zonedRow(group, spans, number, judged);
    sums.waiting.push(zoned);
  }
  let craterFound = false;
  for (const { arc, row } of group.arcs) {
    if (!wentOut(row)) continue;
    markCrater(sums, arc, row.index * rowLength + (row.on > 0 ? burntTo(row) : 0));
    craterFound = true;
  }
  if (sums.present !== null) judgePresent(sums.present, group, zoned, craterFound, sums);
  // A judged value needs half its smoothing ahead of it as well.
  const { craterTime, windows } = sums.parameters;
  passRows(sums, (run.index + 1) * rowLength - Math.max(craterTime, (windows?.smoothing ?? 0) / 2 + rowLength));
}

/** An arc that is lit and sends nothing travels on all the same. */
function passIgnitions(sums: RunSums, group: RunRowGroup): void {
  for (const [arc, ignition] of Object.entries(sums.ignitions)) {
    if (!ignition.done && !group.arcs.some((own) => own.arc === Number(arc))) ignition.length += group.run.gapLength;
  }
}

function markCrater(sums: RunSums, arc: number, out: number): void {
  for (const { group, spans } of sums.waiting) {
    for (const span of spans) {
      if (span.arc === arc) clipCrater(span, out - group.run.index * rowLength, sums.parameters.craterTime);
    }
  }
}

/** No arc can make a crater of what lies before `time` any more. */
function passRows(sums: RunSums, time: number): void {
  const { waiting } = sums;
  for (let next = waiting[0]; next !== undefined && (next.group.run.index + 1) * rowLength <= time; next = waiting[0]) {
    waiting.shift();
    const shares = passRow(sums, next);
    if (sums.present !== null && sums.present.judged > 0) sums.present.judged -= 1;
    if (sums.settled === null || sums.judged === null) continue;
    judgeRow(sums.settled, sums.judged, next, shares, time !== Infinity);
    forgetRows(sums.judged, next.number);
  }
}

/** The run ends, or is looked at, while arcs burn: nothing that is not a crater yet is one. */
export function passAllRows(sums: RunSums): void {
  passRows(sums, Infinity);
}

function passRow(sums: RunSums, row: ZonedRow): WeldShares {
  const { group, spans } = row;
  const { run } = group;
  const shares = weldShares(row);
  const { share } = shares;
  if (spans.length > 0) {
    sums.inside += run.length * share;
    sums.excluded += run.length * (1 - share);
    sums.weldTime += run.on * share;
    if (share > 0) sums.weldSpan = { from: sums.weldSpan?.from ?? row.from, to: row.to };
  }
  for (const { arc, row: own } of group.arcs) {
    const part = shares.arcShares[arc] ?? 0;
    if (part === 0) continue;
    const weld = (sums.weld[arc] ??= { energy: 0, length: 0 });
    weld.energy += own.energy * part;
    weld.length += own.length * part;
  }
  noteZones(sums, run.index * rowLength, spans);
  return shares;
}

/** Keeps the zones as a list of stretches, by the first arc that is not in `weld`. */
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
