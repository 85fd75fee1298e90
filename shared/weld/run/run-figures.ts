import { isAc } from './ac-figures.js';
import { arcFigures, spread, type ArcFigures, type Spread } from './arc-figures.js';
import { deposit, type Deposit } from './deposit.js';
import { electricity, type Electricity } from './electricity.js';
import { toldAbsences, type Absence, type Absences, type ToldAbsences } from './absence.js';
import type { ArcSums } from './arc-sums.js';
import { coolingFigure, whyNoCooling, type CoolingFigure } from './cooling-figure.js';
import { heatInput, type ArcEnergy } from '../rows/heat-input.js';
import { mergedGaps, missingSeqs, type RunState } from './run-state.js';
import { cloneRunSums, passAllRows, type RunSums } from './run-sums.js';
import { travelBasis } from '../procedure/sensors.js';
import { circumferenceOver, degreesAt, type Circumference } from '../procedure/seam-degrees.js';
import { weldMeans, type WeldMeans } from './weld-sums.js';
import { isLong, shortestLength, weldHeatInput } from './weld-heat-input.js';

/** A run's figures, with the names and units of the API. */
export interface RunFigures extends ToldAbsences {
  readonly startedAt: string;
  readonly endedAt: string | null;
  readonly duration: number;
  readonly arcTime: number;
  readonly length: number | null;
  /** Every mm of the run is one of these (in the rules' order of precedence), so they add up to its length. */
  readonly lengths: { readonly inside: number; readonly outside: number; readonly notProven: number; readonly excluded: number } | null;
  readonly energy: number;
  readonly arcEnergy: number | null;
  readonly thermalEfficiency: number;
  readonly heatInput: number | null;
  readonly method: 'instantaneous' | 'average';
  readonly weldZone: {
    readonly length: number | null; readonly arcTime: number; readonly energy: number; readonly heatInput: number | null; readonly travelSpeed: number | null; readonly arcs: readonly WeldMeans[];
  };
  readonly t85: CoolingFigure | null;
  readonly deposit: Deposit;
  readonly electricity: Electricity;
  readonly travelSpeed: Spread | null;
  /** Whether lengths and speeds were measured, or only declared; null where nothing was said. */
  readonly travel: 'measured' | 'declared' | null;
  readonly travelled: number | null;
  /** `travelled`, like every place beside which degrees stand, in degrees of a circumferential seam; never modulo 360. */
  readonly degrees: number | null;
  readonly circumference: Circumference | null;
  readonly arcs: readonly ArcFigures[];
  readonly restarts: readonly {
    readonly arc: number;
    readonly stoppedAt: string;
    readonly stoppedTravelled: number | null;
    readonly stoppedDegrees: number | null;
    readonly restartedAt: string;
    readonly restartedTravelled: number | null;
    readonly restartedDegrees: number | null;
    readonly overlap: number | null;
    readonly positionConfirmed: boolean;
  }[];
  readonly dataGaps: readonly { readonly fromTime: string; readonly toTime: string; readonly fromTravelled: number | null; readonly toTravelled: number | null; readonly fromDegrees: number | null; readonly toDegrees: number | null }[];
  readonly clock: 'steady' | 'stepped' | 'arrival';
  readonly identity: 'full' | 'time' | 'none';
  readonly complete: boolean;
  /** Whether the attempt began because the arc was lit far from where it had gone out. */
  readonly litElsewhere: boolean;
  /** Further facts about the figures. `averageOfAlternating`: an arc alternates, and its power was not measured instant by instant. */
  readonly flags: readonly ('litElsewhere' | 'averageOfAlternating')[];
}

/** What the fold knows about a run besides the sums of its rows. */
export type RunMarks = Pick<RunState, 'start' | 'before' | 'plate' | 'lastOn' | 'restarts' | 'gaps' | 'stepped' | 'byArrival' | 'identity' | 'litElsewhere' | 'finished'> & {
  readonly missing: number;
  /** Whether the next run began while an arc burnt; runs of earlier versions do not say. */
  readonly cutOff?: boolean | undefined;
  /** Index of the declaration of sensors by which it was lit, -1 without one; runs of earlier versions have none. */
  readonly sensors?: number | undefined;
};

export function runMarks(run: RunState): RunMarks {
  const { start, before, plate, lastOn, sensors, restarts, gaps, stepped, byArrival, identity, litElsewhere, cutOff, finished } = run;
  return { start, before, plate, lastOn, sensors, restarts, gaps, stepped, byArrival, identity, litElsewhere, cutOff, finished, missing: missingSeqs(run) };
}

const hasMoved = ({ length }: ArcSums): boolean => length > 0;

/** Why a run has no arc energy; null where it has. */
function whyNoArcEnergy({ arcs, speedTime, length, gapLength }: RunSums): Absence | null {
  if (!(speedTime > 0)) return { code: 'noTravel' };
  if (!isLong(length + gapLength)) return { code: 'shorter', length: shortestLength };
  const standing = Object.entries(arcs).findLast(([, own]) => !hasMoved(own) && own.energy > 0);
  if (standing !== undefined) return { code: 'arcStanding', arc: Number(standing[0]) };
  return heatInput(Object.values(arcs).filter(hasMoved), 1) > 0 ? null : { code: 'noEnergy' };
}

/** Why the weld zone has no heat input; `noArcEnergy` is why the run has none. */
function whyNoWeldHeat({ inside }: RunSums, noArcEnergy: Absence | null): Absence {
  const travelled = noArcEnergy?.code !== 'noTravel' && noArcEnergy?.code !== 'shorter';
  return (travelled && !(inside > 0) ? null : noArcEnergy) ?? { code: 'noWeldZone' };
}

/**
 * The figures of a run from `judgedSums` and its marks (rules of computation: each arc's energy over its length, added over the arcs; heat
 * input = arc energy × thermal efficiency, EN 1011-1).
 */
export function judgedFigures(marks: RunMarks, sums: RunSums): RunFigures {
  const reasons: Absences = {};
  const moving = sums.speedTime > 0;
  if (!moving) for (const name of ['length', 'lengths', 'travelSpeed', 'travelled']) reasons[name] = { code: 'noTravel' };
  const arcs = Object.keys(sums.arcs).map(Number).sort((a, b) => a - b);
  const length = sums.length + sums.gapLength;
  let energy = 0;
  const moved: ArcSums[] = [];
  const welded: ArcEnergy[] = [];
  let slow = false;
  let alternating = false;
  for (const arc of arcs) {
    const own = sums.arcs[arc];
    if (own === undefined) continue;
    energy += own.energy;
    if (hasMoved(own)) moved.push(own);
    slow ||= own.slow;
    alternating ||= isAc(arc, own, sums.parameters);
    const weld = sums.weld[arc];
    if (weld !== undefined && (weld.length > 0 || weld.energy > 0)) welded.push(weld);
  }
  const { thermalEfficiency } = sums.parameters;
  const arcEnergy = heatInput(moved, 1);
  const weldHeat = weldHeatInput(sums);
  const noArcEnergy = whyNoArcEnergy(sums);
  if (noArcEnergy !== null) reasons['arcEnergy'] = reasons['heatInput'] = noArcEnergy;
  const travel = travelBasis(sums.parameters.sensors);
  if (travel === null) reasons['travel'] = { code: 'noTravelSource' };
  const gaps = mergedGaps(marks.gaps);
  const place = (value: number): number | null => (moving ? value : null);
  const noWeldHeat = whyNoWeldHeat(sums, noArcEnergy);
  if (weldHeat === null) reasons['weldZone.heatInput'] = noWeldHeat;
  if (!(sums.weldSpeedTime > 0)) reasons['weldZone.travelSpeed'] = { code: moving ? 'noWeldZone' : 'noTravel' };
  const t85 = coolingFigure(weldHeat, sums.parameters.cooling);
  if (t85 === null) reasons['t85'] = whyNoCooling(sums.parameters.cooling) ?? noWeldHeat;
  const turn = Number.isFinite(sums.parameters.turn) ? sums.parameters.turn : null;
  const round = (value: number): number | null => degreesAt(place(value), turn);
  if (turn === null || !moving) reasons['degrees'] = reasons['circumference'] = { code: turn === null ? 'notCircumferential' : 'noTravel' };
  if (!moving) for (const name of ['weldZone.length', 'restarts', 'dataGaps']) reasons[name] = { code: 'placesUnknown' };
  return tidy({
    startedAt: isoTime(marks.start),
    endedAt: marks.finished ? isoTime(marks.lastOn) : null,
    duration: (marks.lastOn - marks.start) / 1e6,
    arcTime: sums.on,
    length: moving ? length : null,
    lengths: moving ? runLengths(sums) : null,
    energy: energy / 1e3,
    arcEnergy: noArcEnergy === null ? arcEnergy : null,
    thermalEfficiency,
    heatInput: noArcEnergy === null ? heatInput(moved, thermalEfficiency) : null,
    method: slow ? 'average' : 'instantaneous',
    weldZone: {
      length: place(sums.inside), arcTime: sums.weldTime,
      energy: welded.reduce((sum, own) => sum + own.energy, 0) / 1e3, heatInput: weldHeat,
      travelSpeed: sums.weldSpeedTime > 0 ? sums.weldSpeed / sums.weldSpeedTime : null, arcs: arcs.map((arc) => weldMeans(arc, sums.weld[arc])),
    },
    t85,
    deposit: deposit(sums, noArcEnergy, reasons),
    electricity: electricity(energy / 1e3, sums.on, (marks.lastOn - marks.start) / 1e6, reasons),
    travelSpeed: moving ? spread(sums.speedTime, sums.speed, sums.speedSquared, sums.minSpeed, sums.maxSpeed) : null,
    travel,
    travelled: moving ? sums.travelled : null,
    degrees: round(sums.travelled),
    circumference: moving && turn !== null ? circumferenceOver(tidy(length), turn) : null,
    arcs: arcs.flatMap((arc) => {
      const own = sums.arcs[arc];
      return own === undefined ? [] : [arcFigures(arc, own, moving, sums)];
    }),
    restarts: marks.restarts.map((restart) => ({
      arc: restart.arc, stoppedAt: isoTime(restart.stoppedAt), stoppedTravelled: place(restart.stoppedTravelled), stoppedDegrees: round(restart.stoppedTravelled),
      restartedAt: isoTime(restart.restartedAt), restartedTravelled: place(restart.restartedTravelled), restartedDegrees: round(restart.restartedTravelled),
      // Of the places as they are given: their difference is the overlap to the last digit.
      overlap: place(tidy(restart.stoppedTravelled) - tidy(restart.restartedTravelled)), positionConfirmed: restart.positionConfirmed,
    })),
    dataGaps: gaps.map(({ from, to, fromTravelled, toTravelled }) =>
      ({ fromTime: isoTime(from), toTime: isoTime(to), fromTravelled: place(fromTravelled), toTravelled: place(toTravelled), fromDegrees: round(fromTravelled), toDegrees: round(toTravelled) })),
    clock: marks.byArrival ? 'arrival' : marks.stepped ? 'stepped' : 'steady',
    identity: marks.identity,
    complete: gaps.length === 0 && !marks.byArrival && marks.missing === 0,
    litElsewhere: marks.litElsewhere,
    flags: [...(marks.litElsewhere ? (['litElsewhere'] as const) : []), ...(slow && alternating ? (['averageOfAlternating'] as const) : [])],
    ...toldAbsences(reasons),
  });
}

function runLengths({ inside, excluded, gapLength, settled }: RunSums): RunFigures['lengths'] {
  const outside = settled === null ? 0 : settled.outside + settled.passages.outside;
  const notSent = settled === null ? 0 : settled.notProven + settled.passages.notProven;
  const unjudged = settled?.passages.excluded ?? 0;
  return { inside: Math.max(0, inside - outside - notSent - unjudged), outside, notProven: gapLength + notSent, excluded: excluded + unjudged };
}

/** The figures that are shown while a run is welded: mm from its start, kJ/mm. */
export interface RunningFigures {
  readonly travelled: number | null;
  readonly arcEnergy: number | null;
  readonly heatInput: number | null;
  /** By the heat input of the weld zone so far. */
  readonly t85: CoolingFigure | null;
  /** Why there is no t85; null where there is. */
  readonly noT85: Absence | null;
}

export function runningFigures({ sums, travelled }: Pick<RunState, 'sums' | 'travelled'>): RunningFigures {
  const moving = sums.speedTime > 0;
  const soFar = heatInput(Object.values(sums.arcs), 1);
  const known = moving && isLong(sums.length + sums.gapLength) && Number.isFinite(soFar);
  const arcEnergy = known ? tidy(soFar) : null;
  const t85 = tidy(coolingFigure(weldHeatInput(sums), sums.parameters.cooling));
  return {
    travelled: moving ? tidy(travelled) : null,
    arcEnergy,
    heatInput: arcEnergy === null ? null : tidy(arcEnergy * sums.parameters.thermalEfficiency),
    t85,
    noT85: t85 === null ? (whyNoCooling(sums.parameters.cooling) ?? whyNoWeldHeat(sums, whyNoArcEnergy(sums))) : null,
  };
}

/** The sums with every row settled: whatever is not a crater by now will not become one. */
export function judgedSums(marks: RunMarks, rows: RunSums): RunSums {
  // Figures do not depend on alarms.
  const sums = cloneRunSums({ ...rows, present: null });
  passAllRows(sums, marks.finished);
  return sums;
}

/** Rounds to twelve significant digits: the rounding error of a long sum is not part of a figure. */
export function tidy<T>(value: T): T;
export function tidy(value: unknown): unknown {
  // A whole number below 10¹² has no more than twelve digits. Adding 0 turns -0 into 0, as it is printed.
  if (typeof value === 'number') return Number.isInteger(value) && Math.abs(value) < 1e12 ? value + 0 : Number(value.toPrecision(12));
  if (Array.isArray(value)) return value.map((own: unknown) => tidy(own));
  if (typeof value !== 'object' || value === null) return value;
  const tidied: Record<string, unknown> = {};
  for (const [key, own] of Object.entries(value) as [string, unknown][]) tidied[key] = tidy(own);
  return tidied;
}

/** A time as RFC 3339 text in UTC with milliseconds. */
export function isoTime(microseconds: number): string {
  return new Date(Math.round(microseconds / 1e3)).toISOString();
}
