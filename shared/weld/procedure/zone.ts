import type { Assignment } from './assignment.js';
import type { RunWindows } from './run-windows.js';

/** What a stretch of a run is. Only `weld` is judged. */
export type Zone = 'runOn' | 'ignition' | 'weld' | 'restart' | 'crater' | 'runOff' | 'overlap';

/** What a procedure says of an arc's wire: diameter in mm, and how many are fed side by side. */
export interface ArcWire {
  readonly diameter: number | null;
  readonly count: number;
}

/** What of a procedure and an assignment the zones and the heat input of a run depend on. */
export interface RunParameters {
  /** µs and mm that the ignition zone lasts at least (both). */
  readonly ignitionTime: number;
  readonly ignitionLength: number;
  /** µs before the arc goes out. */
  readonly craterTime: number;
  /** Places (mm behind which the weld begins, and at which it ends) between the tabs; Infinity where open. */
  readonly weldFrom: number;
  readonly weldTo: number;
  /** Circumference in mm, beyond which the seam overlaps itself; Infinity for a seam that is not closed. */
  readonly turn: number;
  readonly thermalEfficiency: number;
  /** mm that each arc runs behind arc 1; 0 where not named. */
  readonly offsets: Readonly<Record<number, number>>;
  readonly wires: Readonly<Record<number, ArcWire>>;
  /** Arcs on alternating current by the procedure. */
  readonly alternating: readonly number[];
  /** What the run is judged by; null without a procedure. */
  readonly windows: RunWindows | null;
}

/** What the procedure adds to an assignment, as far as figures need it. Times s, lengths mm. */
export interface ProcedureParameters {
  readonly thermalEfficiency: number;
  readonly ignitionTime: number;
  readonly ignitionLength: number;
  readonly craterTime: number;
  readonly offsets: Readonly<Record<number, number>>;
  readonly wires: Readonly<Record<number, ArcWire>>;
  /** Arcs on alternating current by the procedure. */
  readonly alternating: readonly number[];
  readonly windows: RunWindows | null;
}

/** Without a procedure: heat input as for submerged arc, zones by common practice (no source). */
export const noProcedure: ProcedureParameters = {
  thermalEfficiency: 1,
  ignitionTime: 2,
  ignitionLength: 15,
  craterTime: 2,
  offsets: {},
  wires: {},
  alternating: [],
  windows: null,
};

export function runParameters(assignment: Pick<Assignment, 'runOn' | 'seamLength' | 'motion' | 'diameter'> | null, procedure: ProcedureParameters): RunParameters {
  const runOn = assignment?.runOn ?? 0;
  const seamLength = assignment?.seamLength;
  const turn = assignment?.motion === 'work' && assignment.diameter !== undefined ? Math.PI * assignment.diameter : Infinity;
  return {
    ignitionTime: procedure.ignitionTime * 1e6,
    ignitionLength: procedure.ignitionLength,
    craterTime: procedure.craterTime * 1e6,
    weldFrom: runOn > 0 ? runOn : -Infinity,
    // Where the seam's length is not known nobody can say where the run-off tab begins.
    weldTo: seamLength === undefined ? Infinity : runOn + seamLength,
    turn,
    thermalEfficiency: procedure.thermalEfficiency,
    offsets: procedure.offsets,
    wires: procedure.wires,
    alternating: procedure.alternating,
    windows: procedure.windows,
  };
}
