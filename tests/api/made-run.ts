import type { Run } from '../../shared/api-types/run.js';
import { uncorrected, unsentColumns, unsentFigures } from '../unsent.js';
import type { ArcRow, RunRow } from '../named-rows.js';

/** 2026-11-23T08:00:00Z, µs. */
export const firstStart = Date.UTC(2026, 10, 23, 8) * 1000;

export type RunParts = Partial<Run> & Pick<Run, 'id'> & { readonly started?: number };

/** A finished run of 60 s with 600 A, 30 V and 600 mm/min, so 18 kW over 10 mm/s: 1.8 kJ/mm. */
export function madeRun({ started = firstStart, ...parts }: RunParts): Run {
  const text = (time: number): string => new Date(Math.round(time / 1000)).toISOString();
  const steady = (mean: number): { mean: number; min: number; max: number; standardDeviation: number } => ({ mean, min: mean, max: mean, standardDeviation: 0 });
  const assignment = { seam: parts.seam ?? 'DK-0417/L2', run: parts.run ?? 1, startOffset: 6060, direction: -1 as const };
  return {
    site: 'hall-2',
    carriage: 'c1',
    seam: assignment.seam,
    run: assignment.run,
    attempt: 1,
    assigned: true,
    assignment,
    procedure: null,
    runGroup: null,
    preparation: { missing: [], confirmed: [] },
    temperatures: [],
    temperatureChecks: [],
    state: 'finished',
    version: 1,
    revisedAt: null,
    simulated: false,
    startedAt: text(started),
    endedAt: text(started + 60e6),
    duration: 60,
    arcTime: 60,
    length: 600,
    lengths: { inside: 560, outside: 0, notProven: 0, excluded: 40 },
    energy: 1080,
    arcEnergy: 1.8,
    thermalEfficiency: 1,
    heatInput: 1.8,
    method: 'average',
    weldZone: { length: 560, arcTime: 56, energy: 1008, heatInput: 1.8, travelSpeed: 600, arcs: [{ arc: 1, current: 600, voltage: 30, ...unsentFigures, absent: { wireFeedSpeed: 'no wireFeedSpeed was sent' } }] },
    t85: null,
    deposit: { wireLength: null, wireMass: null, mass: null, rate: null, massPerLength: null, fluxMass: null },
    electricity: { energy: 0.3, duty: 1 },
    travelSpeed: steady(600),
    travel: null,
    sensors: null,
    travelled: 600,
    degrees: null,
    circumference: null,
    arcs: [
      {
        arc: 1,
        current: { ...steady(600), rms: 600 },
        voltage: { ...steady(30), rms: 30 },
        ...unsentFigures,
        energy: 1080,
        arcTime: 60,
        length: 600,
        samples: 600,
        currentVariation: 0,
        voltageVariation: 0,
        voltageRaw: null,
        ac: null,
        ripple: null,
        extinctions: null,
        shortCircuits: null,
        currentDensity: null,
        extension: { declared: null, ratioToDiameter: null, procedure: null, trade: null, driftEstimate: null, basis: null, estimatedFrom: null },
        absent: { wireFeedSpeed: 'no wireFeedSpeed was sent', extinctions: 'readings at 100 ms cannot show them', shortCircuits: 'readings at 100 ms cannot show them' },
      },
    ],
    restarts: [],
    dataGaps: [],
    clock: 'steady',
    identity: 'full',
    excursions: 0,
    judged: false,
    notJudged: 'noProcedure',
    origin: { kind: 'live', file: null, at: null, by: null },
    complete: true,
    litElsewhere: false,
    flags: [],
    absent: {},
    ...parts,
  };
}

/** 600 rows of that run. */
export function madeRows(started: number): { arc: ArcRow[]; run: RunRow[] } {
  const first = Math.floor(started / 100_000);
  const arc: ArcRow[] = [];
  const run: RunRow[] = [];
  for (let at = 0; at < 600; at += 1) {
    arc.push({
      index: first + at, from: 0, covered: 0.1, on: 0.1, gap: 0, samples: 1,
      current: 60, voltage: 3, energy: 1800, currentSquared: 36_000, voltageSquared: 90,
      minCurrent: 600, maxCurrent: 600, minVoltage: 30, maxVoltage: 30,
      length: 1, travelled: at, ...unsentColumns, ...uncorrected, positiveTime: 0.1, plateTemperature: 118,
      extinctions: Number.NaN, shortCircuits: Number.NaN, flags: 2,
    });
    run.push({
      index: first + at, from: 0, on: 0.1, gap: 0, length: 1, gapLength: 0, travelled: at, advance: 1,
      speedTime: 0.1, speed: 60, speedSquared: 36_000, minSpeed: 600, maxSpeed: 600, travelSpeed: 600, flags: 0,
    });
  }
  return { arc, run };
}
