import { simulatedProcedures } from '../../services/simulator/simulated-procedures.js';
import { decodeAssignment } from '../../shared/weld/decode/decode-assignment.js';
import { procedureParameters } from '../../shared/weld/procedure/procedure-parameters.js';
import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import type { RunFigures } from '../../shared/weld/run/run-figures.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { replay } from '../replay/replay.js';
import type { PlayedRun } from './played-run.js';

export interface ReplayedPlay {
  readonly assignment: Assignment;
  readonly figures: RunFigures;
}

/** A played run through the program's fold, under the procedure that it names. */
export function replayPlayed(run: PlayedRun): ReplayedPlay {
  const decoded = decodeAssignment(Buffer.from(run.assignment.payload));
  if (decoded.kind !== 'assignment') throw new Error(JSON.stringify(decoded));
  const { assignment } = decoded;
  const procedures = new Map(simulatedProcedures.map((procedure) => [procedure.id as string, procedureParameters(procedure, assignment)]));
  const items = run.items.map((item, arrival) => ({ type: 'item' as const, item: { ...item, arrived: item.time ?? 0, arrival } }));
  const runs = replay([{ type: 'assignment', assignment, time: assignment.time ?? null }, ...items, { type: 'assignment', assignment: null, time: null }], {
    settings: defaultWeldSettings,
    procedures,
  });
  const [first] = runs;
  if (first === undefined || runs.length > 1) throw new Error(`the play gave ${runs.length} runs`);
  return { assignment, figures: first.figures };
}

export interface TrueArc {
  /** kJ, s and mm with the arc on. */
  readonly energy: number;
  readonly time: number;
  readonly length: number;
  /** Over that time, A and V. */
  readonly currentRms: number;
  readonly voltageRms: number;
}

/** What an arc truly did in a run: sums over the steps in which it burnt. */
export function trueArc(run: PlayedRun, number: number): TrueArc {
  const sums = { energy: 0, time: 0, length: 0, current: 0, voltage: 0 };
  for (const { seconds, advance, arcs } of run.truth) {
    const own = arcs.find(({ arc }) => arc === number);
    if (own === undefined) continue;
    sums.energy += own.power * seconds;
    sums.time += seconds;
    sums.length += Math.abs(advance);
    sums.current += own.current ** 2 * seconds;
    sums.voltage += own.voltage ** 2 * seconds;
  }
  const { energy, time, length } = sums;
  return { energy, time, length, currentRms: Math.sqrt(sums.current / time), voltageRms: Math.sqrt(sums.voltage / time) };
}

/** By how much a value is off, as a share. */
export function off(value: number | null | undefined, truth: number): number {
  return Math.abs((value ?? Number.NaN) / truth - 1);
}
