import { toldAbsences, type Absence, type Absences, type ToldAbsences } from './absence.js';
import { alternates } from '../rows/alternating.js';
import type { ArcSums } from './arc-sums.js';
import { heatInput, type ArcEnergy } from '../rows/heat-input.js';
import { mergedGaps, missingSeqs, type RunState } from './run-state.js';
import { cloneRunSums, passAllRows, type RunSums } from './run-sums.js';
import { spreadNames, type SpreadName } from '../quantities.js';
import { recordOf } from '../rows/record-of.js';
import { spreadOf } from '../rows/spread-sum.js';
import { standardDeviation } from '../rows/standard-deviation.js';

/** Arc energy is not given while the run is shorter than this, mm. */
const shortestLength = 20;
/** A run of that length has it, whatever rounding makes of the sum of its rows. */
const isLong = (length: number): boolean => length > shortestLength - 1e-9;

export interface Spread {
  readonly mean: number;
  readonly min: number;
  readonly max: number;
  /** Standard deviation of the population, weighted by time. */
  readonly standardDeviation: number;
}

/** Figures of one arc: energy kJ, times s, lengths mm, and sent quantities in their unit of the API. */
export interface ArcFigures extends Readonly<Record<SpreadName, Spread | null>>, ToldAbsences {
  readonly arc: number;
  readonly current: (Spread & { readonly rms: number }) | null;
  readonly voltage: ArcFigures['current'];
  readonly energy: number;
  readonly arcTime: number;
  readonly length: number | null;
  readonly samples: number;
  readonly currentVariation: number | null;
  readonly voltageVariation: number | null;
  readonly extinctions: number | null;
  readonly shortCircuits: number | null;
}

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
  readonly weldZone: { readonly length: number | null; readonly arcTime: number; readonly energy: number; readonly heatInput: number | null };
  readonly travelSpeed: Spread | null;
  readonly travelled: number | null;
  readonly arcs: readonly ArcFigures[];
  readonly restarts: readonly {
    readonly arc: number;
    readonly stoppedAt: string;
    readonly stoppedTravelled: number | null;
    readonly restartedAt: string;
    readonly restartedTravelled: number | null;
    readonly overlap: number | null;
    readonly positionConfirmed: boolean;
  }[];
  readonly dataGaps: readonly { readonly fromTime: string; readonly toTime: string; readonly fromTravelled: number | null; readonly toTravelled: number | null }[];
  readonly clock: 'steady' | 'stepped' | 'arrival';
  readonly identity: 'full' | 'time' | 'none';
  readonly complete: boolean;
  /** Whether the attempt began because the arc was lit far from where it had gone out. */
  readonly litElsewhere: boolean;
  /** Further facts about the figures. `averageOfAlternating`: an arc alternates, and its power was not measured instant by instant. */
  readonly flags: readonly ('litElsewhere' | 'averageOfAlternating')[];
}

/** What the fold knows about a run besides the sums of its rows. */
export type RunMarks = Pick<RunState, 'start' | 'lastOn' | 'restarts' | 'gaps' | 'stepped' | 'byArrival' | 'identity' | 'litElsewhere' | 'finished'> & {
  readonly missing: number;
};

export function runMarks(run: RunState): RunMarks {
  const { start, lastOn, restarts, gaps, stepped, byArrival, identity, litElsewhere, finished } = run;
  return { start, lastOn, restarts, gaps, stepped, byArrival, identity, litElsewhere, finished, missing: missingSeqs(run) };
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
  let standing: number | null = null;
  for (const arc of arcs) {
    const own = sums.arcs[arc];
    if (own === undefined) continue;
    energy += own.energy;
    if (own.length > 0) moved.push(own);
    else if (own.energy > 0) standing = arc;
    slow ||= own.slow;
    alternating ||= alternates(own) || sums.parameters.alternating.includes(arc);
    const weld = sums.weld[arc];
    if (weld !== undefined && (weld.length > 0 || weld.energy > 0)) welded.push(weld);
  }
  const { thermalEfficiency } = sums.parameters;
  const arcEnergy = heatInput(moved, 1);
  const weldHeat = heatInput(welded, thermalEfficiency);
  const long = moving && isLong(length) && arcEnergy > 0 && standing === null;
  if (!long) {
    const why: Absence = !moving ? { code: 'noTravel' } : !isLong(length) || standing === null ? { code: 'shorter', length: shortestLength } : { code: 'arcStanding', arc: standing };
    reasons['arcEnergy'] = why;
    reasons['heatInput'] = why;
  }
  const gaps = mergedGaps(marks.gaps);
  const place = (value: number): number | null => (moving ? value : null);
  const weldKnown = moving && isLong(length) && sums.inside > 0 && weldHeat > 0 && weldHeat < Infinity;
  if (!weldKnown) reasons['weldZone.heatInput'] = (isLong(length) && moving ? undefined : reasons['heatInput']) ?? { code: 'noWeldZone' };
  if (!moving) for (const name of ['weldZone.length', 'restarts', 'dataGaps']) reasons[name] = { code: 'placesUnknown' };
  return tidy({
    startedAt: isoTime(marks.start),
    endedAt: marks.finished ? isoTime(marks.lastOn) : null,
    duration: (marks.lastOn - marks.start) / 1e6,
    arcTime: sums.on,
    length: moving ? length : null,
    lengths: moving ? runLengths(sums) : null,
    energy: energy / 1e3,
    arcEnergy: long ? arcEnergy : null,
    thermalEfficiency,
    heatInput: long ? heatInput(moved, thermalEfficiency) : null,
    method: slow ? 'average' : 'instantaneous',
    weldZone: {
      length: place(sums.inside), arcTime: sums.weldTime,
      energy: welded.reduce((sum, own) => sum + own.energy, 0) / 1e3, heatInput: weldKnown ? weldHeat : null,
    },
    travelSpeed: moving ? spread(sums.speedTime, sums.speed, sums.speedSquared, sums.minSpeed, sums.maxSpeed) : null,
    travelled: moving ? sums.travelled : null,
    arcs: arcs.flatMap((arc) => {
      const own = sums.arcs[arc];
      return own === undefined ? [] : [arcFigures(arc, own, moving)];
    }),
    restarts: marks.restarts.map((restart) => ({
      arc: restart.arc, stoppedAt: isoTime(restart.stoppedAt), stoppedTravelled: place(restart.stoppedTravelled),
      restartedAt: isoTime(restart.restartedAt), restartedTravelled: place(restart.restartedTravelled),
      // Of the places as they are given: their difference is the overlap to the last digit.
      overlap: place(tidy(restart.stoppedTravelled) - tidy(restart.restartedTravelled)), positionConfirmed: restart.positionConfirmed,
    })),
    dataGaps: gaps.map(({ from, to, fromTravelled, toTravelled }) =>
      ({ fromTime: isoTime(from), toTime: isoTime(to), fromTravelled: place(fromTravelled), toTravelled: place(toTravelled) })),
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
}

export function runningFigures({ sums, travelled }: Pick<RunState, 'sums' | 'travelled'>): RunningFigures {
  const moving = sums.speedTime > 0;
  const soFar = heatInput(Object.values(sums.arcs), 1);
  const known = moving && isLong(sums.length + sums.gapLength) && Number.isFinite(soFar);
  const arcEnergy = known ? tidy(soFar) : null;
  return {
    travelled: moving ? tidy(travelled) : null,
    arcEnergy,
    heatInput: arcEnergy === null ? null : tidy(arcEnergy * sums.parameters.thermalEfficiency),
  };
}

/** The sums with every row settled: whatever is not a crater by now will not become one. */
export function judgedSums(marks: RunMarks, rows: RunSums): RunSums {
  // Figures do not depend on alarms.
  const sums = cloneRunSums({ ...rows, present: null });
  passAllRows(sums, marks.finished);
  return sums;
}

function arcFigures(arc: number, sums: ArcSums, moving: boolean): ArcFigures {
  const reasons: Absences = {};
  const timed = sums.on > 0;
  const alternating = alternates(sums);
  const { rms } = sums;
  const electric = (squared: number, [sum, min, max]: readonly [number, number, number]): ArcFigures['current'] =>
    timed ? { ...spread(sums.on, sum, squared, min, max), rms: Math.sqrt(squared / sums.on) } : null;
  const current = electric(sums.currentSquared, alternating ? [rms.current, rms.currentMin, rms.currentMax] : [sums.current, sums.minCurrent, sums.maxCurrent]);
  const voltage = electric(sums.voltageSquared, alternating ? [rms.voltage, rms.voltageMin, rms.voltageMax] : [sums.voltage, sums.minVoltage, sums.maxVoltage]);
  if (!timed) reasons['current'] = reasons['voltage'] = { code: 'instant' };
  const spreads = recordOf(spreadNames, (name) => {
    const { time, sum, squared, min, max } = spreadOf(sums.spreads, name);
    if (time > 0) return spread(time, sum, squared, min, max);
    reasons[name] = { code: 'notSent', quantity: name };
    return null;
  });
  if (!moving) reasons['length'] = { code: 'noTravel' };
  const interval = timed && sums.samples > 0 ? Number(((sums.on / sums.samples) * 1e3).toPrecision(3)) : 0;
  const source = sums.block ? (sums.slow ? 'both' : 'blocks') : 'readings';
  if (Number.isNaN(sums.extinctions)) reasons['extinctions'] = { code: 'tooSlow', source, interval };
  if (Number.isNaN(sums.shortCircuits)) reasons['shortCircuits'] = { code: 'tooSlow', source, interval };
  const currentVariation = current === null ? null : ratio(current.standardDeviation, current.mean);
  const voltageVariation = voltage === null ? null : ratio(voltage.standardDeviation, voltage.mean);
  if (currentVariation === null) reasons['currentVariation'] = { code: 'noMean' };
  if (voltageVariation === null) reasons['voltageVariation'] = { code: 'noMean' };
  return {
    arc, current, voltage, ...spreads, energy: sums.energy / 1e3, arcTime: sums.on, length: moving ? sums.length : null,
    samples: sums.samples, currentVariation, voltageVariation, extinctions: Number.isNaN(sums.extinctions) ? null : sums.extinctions,
    shortCircuits: Number.isNaN(sums.shortCircuits) ? null : sums.shortCircuits, ...toldAbsences(reasons),
  };
}

/** Mean and standard deviation of the population from integrals over `time`. */
function spread(time: number, sum: number, squared: number, min: number, max: number): Spread {
  return { mean: sum / time, min, max, standardDeviation: standardDeviation(time, sum, squared) };
}

function ratio(deviation: number, mean: number): number | null {
  return mean === 0 ? null : deviation / Math.abs(mean);
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
