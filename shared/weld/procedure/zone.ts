import type { Assignment } from './assignment.js';
import type { RunWindows, TemperatureWindows } from './run-windows.js';

/** The zone of a stretch of a run. Only `weld` is judged. */
export type Zone = 'runOn' | 'ignition' | 'weld' | 'restart' | 'crater' | 'runOff' | 'overlap';

/** An arc's wire by its procedure: diameter in mm, and the number of wires that are fed side by side. */
export interface ArcWire {
  readonly diameter: number | null;
  readonly count: number;
}

/** The temperature of the plate from which a run starts, °C, and what it comes from: a measurement of that kind, or what the assignment declares. */
export interface StartTemperature {
  readonly value: number;
  readonly from: 'preheat' | 'interpass' | 'declared';
}

/** The parameters from procedure and assignment that the zones and the heat input of a run depend on. */
export interface RunParameters {
  /** The µs and mm that the ignition zone lasts at least; both must be over. */
  readonly ignitionTime: number;
  readonly ignitionLength: number;
  /** Length of the crater zone before the arc goes out, µs. */
  readonly craterTime: number;
  /** The places between the tabs, mm: the weld begins after the first and ends at the second; Infinity where open. */
  readonly weldFrom: number;
  readonly weldTo: number;
  /** Circumference, mm, beyond which the seam overlaps itself; Infinity for a seam that is not closed. */
  readonly turn: number;
  readonly thermalEfficiency: number;
  /** The mm by which each arc runs behind arc 1; 0 where not named. */
  readonly offsets: Readonly<Record<number, number>>;
  readonly wires: Readonly<Record<number, ArcWire>>;
  /** Arcs on alternating current by the procedure. */
  readonly alternating: readonly number[];
  /** The windows by which the run is judged; null without a procedure. */
  readonly windows: RunWindows | null;
  /** Null if none was measured and none is declared. */
  readonly temperature: StartTemperature | null;
}

/** The values that the procedure adds to an assignment, as far as figures need them. Times are in s here, lengths in mm. */
export type ProcedureParameters = Omit<RunParameters, 'weldFrom' | 'weldTo' | 'turn' | 'temperature'> & {
  /** The limits for the temperature of the plate before the arc is struck. */
  readonly temperatureWindows: TemperatureWindows;
};

/** Without a procedure: heat input as for submerged arc, zones by common practice (no source). */
export const noProcedure: ProcedureParameters = {
  thermalEfficiency: 1, ignitionTime: 2, ignitionLength: 15, craterTime: 2, offsets: {}, wires: {}, alternating: [], windows: null, temperatureWindows: {},
};

/** `temperature`: the start temperature of the run, if one is known. */
export function runParameters(
  assignment: Pick<Assignment, 'runOn' | 'seamLength' | 'motion' | 'diameter'> | null, procedure: ProcedureParameters, temperature: StartTemperature | null = null,
): RunParameters {
  const runOn = assignment?.runOn ?? 0;
  const seamLength = assignment?.seamLength;
  const { ignitionTime, ignitionLength, craterTime, thermalEfficiency, offsets, wires, alternating, windows } = procedure;
  return {
    ignitionTime: ignitionTime * 1e6, ignitionLength, craterTime: craterTime * 1e6,
    weldFrom: runOn > 0 ? runOn : -Infinity,
    // Where the seam's length is not known, nobody can say where the run-off tab begins.
    weldTo: seamLength === undefined ? Infinity : runOn + seamLength,
    turn: assignment?.motion === 'work' && assignment.diameter !== undefined ? Math.PI * assignment.diameter : Infinity,
    thermalEfficiency, offsets, wires, alternating, windows, temperature,
  };
}
