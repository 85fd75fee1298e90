import type { ItemFacts } from '../items/device-clock.js';
import { joinDensity, type DensityCells } from '../rows/density.js';
import { sentTravelAt, type Motion } from '../arcs/motion.js';
import type { RunBeginning } from '../temperatures/plate-samples.js';
import type { RunParameters } from '../procedure/zone.js';
import { cloneRunSums, startRunSums, type RunSums } from './run-sums.js';

/** An arc that went out and was lit again within one run. Times µs of corrected time, places mm travelled. */
export interface Restart {
  readonly arc: number;
  readonly stoppedAt: number;
  readonly stoppedTravelled: number;
  readonly restartedAt: number;
  readonly restartedTravelled: number;
  readonly positionConfirmed: boolean;
}

export interface DataGap {
  readonly from: number;
  readonly to: number;
  readonly fromTravelled: number;
  readonly toTravelled: number;
}

/** The first and last place in the order of items, and the seqs between them, of one boot within a run. */
export interface BootSpan {
  readonly rank: number;
  readonly firstKey: number;
  lastKey: number;
  readonly firstSeq: number | null;
  lastSeq: number | null;
  readonly firstCount: number;
  lastCount: number;
}

/** A run up to the rows made so far. */
export interface RunState {
  /** Running number within the fold; it is the same again when the same items are folded again. */
  readonly ordinal: number;
  /** Its assignment among those of the carriage, and the turn under it (`turn-epochs.ts`); -1 without one. */
  epoch: number;
  readonly start: number;
  /** What its temperature depends on, besides its start and what was entered. */
  readonly before: RunBeginning['before'];
  readonly plate: RunBeginning['plate'];
  /** The time until which an arc burnt. */
  lastOn: number;
  /** Place at the beginning of the next row, mm travelled. */
  travelled: number;
  /** Where the turn that ends the run began, mm travelled: 0, or before the run where it was begun by a turn, at the first item after that. */
  turnFrom: number;
  /** `onTo`: until when the arc last burnt, µs; `outTravel`: `travel` as it was sent where it went out, mm, or NaN. */
  arcs: Record<number, { onTo: number; outAt: number | null; outTravelled: number; outConfirmed: boolean; outTravel: number }>;
  restarts: Restart[];
  gaps: DataGap[];
  boots: BootSpan[];
  stepped: boolean;
  /** The clock stepped while no arc burnt, which concerns the run only if an arc is lit again. */
  steppedInDark: boolean;
  byArrival: boolean;
  identity: 'full' | 'time' | 'none';
  /** Whether `travel` jumped while the run was welded, and whether it did since an arc last burnt. */
  travelJump: boolean;
  jumpInDark: boolean;
  /** Whether it was lit far from where the attempt before it had ended. */
  readonly litElsewhere: boolean;
  /** Whether the next run began while an arc of this one burnt, so that it did not go out and has no crater. */
  cutOff: boolean;
  finished: boolean;
  sums: RunSums;
  /** The revision of the carriage's sensors by which it was lit; -1 without one. */
  readonly sensors: number;
  /** How long each arc was in which cell of voltage and current, where its samples are close enough to tell. */
  density: Record<number, DensityCells>;
}

export function startRun(begun: Pick<RunState, 'ordinal' | 'epoch' | 'start' | 'before' | 'plate' | 'sensors' | 'litElsewhere'>, parameters: RunParameters): RunState {
  const { ordinal, epoch, start, before, plate, sensors, litElsewhere } = begun;
  return {
    ordinal, epoch, start, before, plate, lastOn: start, travelled: 0, turnFrom: 0, arcs: {}, restarts: [], gaps: [], boots: [],
    stepped: false, steppedInDark: false, byArrival: false, identity: 'full', travelJump: false, jumpInDark: false, litElsewhere, cutOff: false, finished: false,
    sums: startRunSums(parameters, true), sensors, density: {},
  };
}

export function cloneRun(run: RunState): RunState {
  const arcs: RunState['arcs'] = {};
  for (const [arc, own] of Object.entries(run.arcs)) arcs[Number(arc)] = { ...own };
  const density: RunState['density'] = {};
  for (const [arc, own] of Object.entries(run.density)) density[Number(arc)] = new Map(own);
  return {
    ...run, arcs, density, restarts: run.restarts.slice(), gaps: run.gaps.slice(), boots: run.boots.map((boot) => ({ ...boot })),
    sums: cloneRunSums(run.sums),
  };
}

/** Adds the time that an arc was in each cell. */
export function noteDensity(run: RunState, arc: number, cells: DensityCells): void {
  joinDensity((run.density[arc] ??= new Map<number, number>()), cells);
}

/** The distance in sent `travel` from where the last arc went out beyond which lighting an arc is not a restart, mm; common practice, no source. */
const elsewhere = 300;
/** A rounding error in computed places, mm. */
const samePlace = 1e-6;

/** The arc that went out last, if none burns; null while one does. */
export function darkSince({ arcs }: Pick<RunState, 'arcs'>): { readonly outAt: number; readonly outTravel: number } | null {
  let last: { readonly outAt: number; readonly outTravel: number } | null = null;
  for (const { outAt, outTravel } of Object.values(arcs)) {
    if (outAt === null) return null;
    if (last === null || outAt > last.outAt) last = { outAt, outTravel };
  }
  return last;
}

/** Whether a run with its arcs out that is lit at `lit` (µs) continues somewhere else: only the `travel` that was sent counts, whatever jumped. */
export function isElsewhere(run: Pick<RunState, 'arcs'>, motion: Motion, lit: number): boolean {
  return isFarFrom(run, sentTravelAt(motion, lit));
}

/** Whether a place, as sent `travel`, is so far from where the last arc of a run went out; no place is while one burns. */
export function isFarFrom(run: Pick<RunState, 'arcs'>, travel: number): boolean {
  const dark = darkSince(run);
  return dark !== null && Math.abs(travel - dark.outTravel) > elsewhere + samePlace;
}

/** Records that an item's values are part of the run. */
export function noteFacts(run: RunState, facts: ItemFacts): void {
  if ((facts.steppedAt !== null && facts.steppedAt > run.start) || run.steppedInDark) run.stepped = true;
  run.steppedInDark = false;
  if (facts.byArrival) run.byArrival = true;
  if (facts.identity === 'none' || (facts.identity === 'time' && run.identity === 'full')) run.identity = facts.identity;
  const boot = run.boots.at(-1);
  if (boot?.rank !== facts.rank) {
    const known = run.boots.find((own) => own.rank === facts.rank);
    if (known === undefined) {
      run.boots.push({
        rank: facts.rank, firstKey: facts.key, lastKey: facts.key,
        firstSeq: facts.seq, lastSeq: facts.seq, firstCount: facts.seqCount, lastCount: facts.seqCount,
      });
    }
    return;
  }
  if (facts.key > boot.lastKey) {
    boot.lastKey = facts.key;
    boot.lastSeq = facts.seq;
    boot.lastCount = facts.seqCount;
  }
}

/** Records the item up to which the run's last interval extends: a step or a loss just before it belongs to the run. */
export function noteClosing(run: RunState, facts: ItemFacts): void {
  if (facts.steppedAt !== null) run.stepped = true;
  const boot = run.boots.at(-1);
  if (boot?.rank !== facts.rank || facts.seq === null || boot.lastSeq === null || facts.seq <= boot.lastSeq) return;
  boot.lastKey = facts.key;
  boot.lastSeq = facts.seq;
  boot.lastCount = facts.seqCount;
}

/** The number of seqs between the first and the last item of the run that were never received. */
export function missingSeqs(run: RunState): number {
  let missing = 0;
  for (const boot of run.boots) {
    if (boot.firstSeq === null || boot.lastSeq === null) continue;
    missing += boot.lastSeq - boot.firstSeq - (boot.lastCount - boot.firstCount);
  }
  return missing;
}

/** Merges overlapping gaps of several arcs into one. */
export function mergedGaps(gaps: readonly DataGap[]): DataGap[] {
  const merged: DataGap[] = [];
  for (const gap of [...gaps].sort((a, b) => a.from - b.from)) {
    const last = merged.at(-1);
    if (last === undefined || gap.from >= last.to) merged.push(gap);
    else if (gap.to > last.to) merged[merged.length - 1] = { ...last, to: gap.to, toTravelled: gap.toTravelled };
  }
  return merged;
}
