import type { Sensors } from '../../shared/weld/procedure/sensors.js';
import type { WeldSettings } from '../../shared/weld/weld-settings.js';
import { arcFigures, energyOf, isMostlyAlternating } from './arc-figures.js';
import type { ArcState } from './arc-state.js';
import type { PlacedItem } from './held-values.js';
import { plainCooling } from './plain-cooling.js';
import { runMoments, type Moment } from './moments.js';
import { placeAt, type Move } from './motion.js';
import { diameterOf, plainDeposit } from './plain-deposit.js';
import { plainExtension } from './plain-extension.js';
import type { Burn, ExtensionSlack, PlainArc, PlainProcedure, PlainRestart, PlainRun, Segment, Span } from './plain-types.js';
import { plainDensity, sendsSigns } from './plain-sensors.js';
import type { RunParts } from './split-runs.js';
import { sum, weigh, weightedMean } from './weighted.js';
import { weldMeansOf } from './weld-means.js';

/** Below this length a run has no arc energy (rules, section 5); a sum of places may be off in its last digits, mm. */
const leastLength = 20 - 1e-9;

export interface Stream {
  readonly base: number;
  /** All items in canonical order. */
  readonly items: readonly PlacedItem[];
  readonly states: ReadonlyMap<number, ArcState>;
  readonly moves: readonly Move[];
  readonly sensors: Sensors | null;
}

const secondsOf = (spans: readonly Span[]): number => sum(spans.map((span) => span.to - span.from)) / 1_000_000;
const lengthOf = (moments: readonly Moment[]): number => sum(moments.map((moment) => moment.distance));

/** Σ energy over length of each arc, kJ/mm; null if the run is too short or an arc stood still. */
function energyPerLength(runLength: number | null, arcs: readonly { readonly energy: number; readonly length: number | null }[]): number | null {
  if (runLength === null || runLength < leastLength) return null;
  if (arcs.some((arc) => arc.energy > 0 && (arc.length === null || arc.length <= 0))) return null;
  return sum(arcs.filter((arc) => arc.energy > 0).map((arc) => arc.energy / (arc.length ?? Number.NaN)));
}

function weldZoneOf(arcs: readonly PlainArc[], burns: readonly Burn[], moments: readonly Moment[], runLength: number | null, efficiency: number): Pick<PlainRun, 'weldZone' | 'weldTimes'> {
  const weld = moments.filter((moment) => moment.weld && moment.covered.length > 0);
  const segmentsOf = (arc: number): Segment[] => burns.filter((burn) => burn.arc === arc).flatMap((burn) => burn.segments);
  const parts = arcs.map(({ arc }) => {
    const segments = segmentsOf(arc);
    return { energy: energyOf(segments, weld), length: lengthOf(weld.filter((moment) => moment.covered.includes(arc))) };
  });
  const length = runLength === null ? null : lengthOf(weld.filter((moment) => !moment.inGap));
  const arcEnergy = length === 0 ? null : energyPerLength(runLength, parts);
  const energy = sum(parts.map((part) => part.energy));
  const own = arcs.map(({ arc }) => weldMeansOf(arc, segmentsOf(arc), weld));
  const moving = weld.filter((moment) => moment.known);
  const travelSpeed = weigh(moving.map((moment) => ({ value: moment.speed, weight: moment.to - moment.from })))?.mean ?? null;
  return {
    weldZone: { length, arcTime: secondsOf(weld), energy, heatInput: arcEnergy === null ? null : arcEnergy * efficiency, travelSpeed, arcs: own.map(({ means }) => means) },
    weldTimes: new Map([[0, secondsOf(moving)], ...own.map(({ means, time }) => [means.arc, time] as const)]),
  };
}

function mergedGaps(run: RunParts): Span[] {
  const merged: Span[] = [];
  for (const gap of [...run.gaps].sort((a, b) => a.from - b.from)) {
    const last = merged.at(-1);
    if (last !== undefined && gap.from < last.to) merged[merged.length - 1] = { from: last.from, to: Math.max(last.to, gap.to) };
    else merged.push({ from: gap.from, to: gap.to });
  }
  return merged;
}

/** Flags of the items from start to end; one right at the end is included if it ends a reading (the last sample of a block ends by its interval). */
function flagsOf(stream: Stream, start: number, end: number): Pick<PlainRun, 'clock' | 'identity'> & { seqMissing: boolean } {
  const endsReading = (own: PlacedItem): boolean => stream.items.findLast(({ item, index }) => item.arc === own.item.arc && index < own.index)?.item.interval === null;
  const within = stream.items.filter((own) => own.placed >= start && (own.placed < end || (own.placed === end && endsReading(own))));
  const byArrival = within.some((entry) => entry.byArrival);
  const stepped = within.some((entry) => entry.stepped && entry.placed > start);
  const bare = within.filter(({ item }) => item.boot === null || item.seq === null);
  const seqMissing = within.some(({ item }, i) => {
    const before = within[i - 1]?.item;
    if (before === undefined || before.boot !== item.boot || before.seq === null || item.seq === null) return false;
    return item.seq > before.seq + 1;
  });
  return {
    clock: byArrival ? 'arrival' : stepped ? 'stepped' : 'steady',
    identity: bare.some(({ item }) => item.time === null) ? 'none' : bare.length > 0 ? 'time' : 'full',
    seqMissing,
  };
}

export function runFigures(run: RunParts, stream: Stream, procedure: PlainProcedure, settings: WeldSettings): PlainRun {
  const { moves, base } = stream;
  const start = Math.min(...run.burns.map((burn) => burn.from));
  const end = Math.max(...run.burns.map((burn) => burn.to));
  const moments = runMoments(run, moves, start, procedure);
  const travelKnown = moments.some((moment) => moment.known);
  const origin = placeAt(moves, start).position;
  const travelled = (time: number): number | null => (travelKnown ? placeAt(moves, time).position - origin : null);
  const numbers = [...new Set(run.burns.map((burn) => burn.arc))].sort((a, b) => a - b);
  const burnsOf = (arc: number): Burn[] => run.burns.filter((burn) => burn.arc === arc);
  const segmentsOf = (arc: number): Segment[] => burnsOf(arc).flatMap((burn) => burn.segments);
  const extensionSlack = new Map<number, ExtensionSlack>();
  const arcs = numbers.map((arc): PlainArc => {
    const gaps = run.gaps.filter((gap) => gap.arc === arc);
    const own = arcFigures(arc, burnsOf(arc), gaps, stream.states.get(arc)?.lightings ?? [], moves, travelKnown, settings, { alternating: procedure.alternating.has(arc), signed: sendsSigns(stream.sensors, arc) });
    const segments = segmentsOf(arc);
    const alternating = procedure.alternating.has(arc) || isMostlyAlternating(segments);
    const weld = moments.filter((moment) => moment.weld && moment.covered.includes(arc));
    const { extension, slack } = plainExtension({ arc, assignment: run.assignment, procedure, alternating, segments, weld });
    extensionSlack.set(arc, slack);
    return { ...own, currentDensity: currentDensity(own, segments, alternating, diameterOf(arc, run.assignment, procedure), procedure.wires.get(arc)?.count ?? 1), extension };
  });
  const length = travelKnown ? lengthOf(moments) : null;
  const arcEnergy = energyPerLength(length, arcs);
  const efficiency = procedure.thermalEfficiency;
  const { weldZone, weldTimes } = weldZoneOf(arcs, run.burns, moments, length, efficiency);
  const restarts = numbers.flatMap((arc) => restartsOf(burnsOf(arc), base, moves, travelled));
  const gaps = mergedGaps(run);
  const proven = moments.filter((moment) => !moment.inGap);
  const samples = run.burns.flatMap((burn) => burn.segments);
  const { clock, identity, seqMissing } = flagsOf(stream, start, end);
  const covered = moments.filter((moment) => moment.covered.length > 0);
  const method = samples.every((segment) => segment.interval !== null && segment.interval <= 1_000) ? 'instantaneous' : 'average';
  const alternates = numbers.some((arc) => procedure.alternating.has(arc) || isMostlyAlternating(burnsOf(arc).flatMap((burn) => burn.segments)));
  return {
    seam: run.assignment?.seam ?? null,
    run: run.assignment?.run ?? null,
    attempt: run.attempt,
    assigned: run.assignment !== null,
    assignment: run.assignment,
    startedAt: base + start,
    endedAt: base + end,
    arcTime: secondsOf(covered),
    length,
    lengths: travelKnown
      ? {
          inside: lengthOf(proven.filter((moment) => moment.weld)),
          outside: 0,
          notProven: lengthOf(moments.filter((moment) => moment.inGap)),
          excluded: lengthOf(proven.filter((moment) => !moment.weld)),
        }
      : null,
    energy: sum(arcs.map((arc) => arc.energy)),
    arcEnergy,
    thermalEfficiency: efficiency,
    heatInput: arcEnergy === null ? null : arcEnergy * efficiency,
    method,
    weldZone,
    weldTimes,
    t85: plainCooling(weldZone.heatInput, run.assignment, procedure.shape),
    deposit: plainDeposit({ arcs, segmentsOf, assignment: run.assignment, procedure, arcTime: secondsOf(covered), perLength: arcEnergy !== null }),
    electricity: { energy: sum(arcs.map((arc) => arc.energy)) / 3600, duty: end > start ? secondsOf(covered) / ((end - start) / 1_000_000) : null },
    density: new Map(numbers.map((arc) => [arc, plainDensity(segmentsOf(arc))])),
    extensionSlack,
    travelSpeed: weigh(covered.filter((moment) => moment.known).map((moment) => ({ value: moment.speed, weight: moment.to - moment.from }))),
    arcs,
    restarts: restarts.sort((a, b) => a.restartedAt - b.restartedAt),
    dataGaps: gaps.map((gap) => ({
      fromTime: base + gap.from,
      toTime: base + gap.to,
      fromTravelled: travelled(gap.from),
      toTravelled: travelled(gap.to),
    })),
    clock,
    identity,
    complete: gaps.length === 0 && clock !== 'arrival' && !seqMissing,
    litElsewhere: run.litElsewhere,
    flags: [...(run.litElsewhere ? ['litElsewhere'] : []), ...(alternates && method === 'average' ? ['averageOfAlternating'] : [])],
  };
}

/** A/mm² in all wires of an arc. */
function currentDensity({ current }: Pick<PlainArc, 'current'>, segments: readonly Segment[], alternating: boolean, diameter: number | null, wires: number): number | null {
  if (current === null || diameter === null) return null;
  const mean = weightedMean(segments.map((own) => ({ value: own.current, weight: own.end - own.start })));
  return (alternating ? current.rms : Math.abs(mean)) / (wires * Math.PI * (diameter / 2) ** 2);
}

function restartsOf(burns: readonly Burn[], base: number, moves: readonly Move[], travelled: (time: number) => number | null): PlainRestart[] {
  return burns.flatMap((burn, i) => {
    const before = burns[i - 1];
    if (before === undefined || !burn.lit) return [];
    const stoppedTravelled = travelled(before.to);
    const restartedTravelled = travelled(burn.from);
    return [
      {
        stoppedAt: base + before.to,
        stoppedTravelled,
        restartedAt: base + burn.from,
        restartedTravelled,
        overlap: stoppedTravelled === null || restartedTravelled === null ? null : stoppedTravelled - restartedTravelled,
        positionConfirmed: placeAt(moves, before.to).measured && placeAt(moves, burn.from).measured,
      },
    ];
  });
}
