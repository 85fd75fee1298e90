import type { CoolingConditions, StartTemperature } from '../cooling/cooling-conditions.js';
import type { AssignedArc, Assignment } from './assignment.js';
import type { RunWindows, TemperatureWindows, Window } from './run-windows.js';
import { sensorsOfArc, type Sensors } from './sensors.js';

/** The zone of a stretch of a run. Only `weld` is judged. */
export type Zone = 'runOn' | 'ignition' | 'weld' | 'restart' | 'crater' | 'runOff' | 'overlap';

/** An arc's wire by its procedure: diameter in mm, and the number of wires that are fed side by side. */
export interface ArcWire {
  readonly diameter: number | null;
  readonly count: number;
  /** Share of the melted wire that becomes weld metal. */
  readonly recovery: number;
  /** The procedure's limits for electrode extension, mm. */
  readonly extensionWindow: Window | null;
}

/** An arc's wire in a run: the diameter is that of the assignment, else the procedure's. */
export interface RunWire extends ArcWire {
  /** Electrode extension as the assignment declares it, mm. */
  readonly extension: number | null;
}

/** The wire of an arc of which neither assignment nor procedure says anything. */
export const unknownWire: RunWire = { diameter: null, count: 1, recovery: 1, extensionWindow: null, extension: null };

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
  readonly wires: Readonly<Record<number, RunWire>>;
  /** Flux melted per weld metal, kg/kg. */
  readonly fluxRatio: number;
  /** What the run group is called by which the run is judged (run-group-name.ts); null where none fits. */
  readonly runGroup: string | null;
  /** Arcs on alternating current by the procedure. */
  readonly alternating: readonly number[];
  /** The windows by which the run is judged; null without a procedure. */
  readonly windows: RunWindows | null;
  readonly cooling: CoolingConditions;
  /** The carriage's sensors as declared when the run was lit; null where nothing was. */
  readonly sensors: Sensors | null;
}

/** The values that the procedure adds to an assignment, as far as figures need them. Times are in s here, lengths in mm. */
export interface ProcedureParameters extends Omit<RunParameters, 'weldFrom' | 'weldTo' | 'turn' | 'wires' | 'cooling' | 'sensors'> {
  readonly wires: Readonly<Record<number, ArcWire>>;
  readonly shapeFactors: Pick<CoolingConditions, 'f2' | 'f3'>;
  /** The limits for the temperature of the plate before the arc is struck. */
  readonly temperatureWindows: TemperatureWindows;
}

/**
 * Without a procedure: heat input as for submerged arc, zones by common practice (no source). About 1 kg of flux per kg of weld metal is published
 * (Saluja and Moeed on submerged arc welding).
 */
export const noProcedure: ProcedureParameters = {
  thermalEfficiency: 1, ignitionTime: 2, ignitionLength: 15, craterTime: 2, offsets: {}, wires: {}, fluxRatio: 1, runGroup: null, alternating: [], windows: null, shapeFactors: { f2: 1, f3: 1 }, temperatureWindows: {},
};

type ParametersOf = Pick<Assignment, 'runOn' | 'seamLength' | 'motion' | 'diameter' | 'thickness' | 'preheat' | 'arcs'>;

/** What is known of a run besides its assignment and its procedure. */
export interface KnownOfRun {
  /** The carriage's sensors as declared when the run was lit. */
  readonly sensors?: Sensors | null;
  /** The temperature of the plate from which it starts; where none is given, the preheat that the assignment declares. */
  readonly temperature?: StartTemperature | null;
}

/** The parameters of a run by its assignment, its procedure, and what else is known of it. */
export function runParameters(assignment: ParametersOf | null, procedure: ProcedureParameters, { sensors = null, temperature = null }: KnownOfRun = {}): RunParameters {
  const runOn = assignment?.runOn ?? 0;
  const seamLength = assignment?.seamLength;
  const { ignitionTime, ignitionLength, craterTime, thermalEfficiency, offsets, fluxRatio, runGroup, alternating, windows } = procedure;
  return {
    ignitionTime: ignitionTime * 1e6, ignitionLength, craterTime: craterTime * 1e6,
    weldFrom: runOn > 0 ? runOn : -Infinity,
    // Where the seam's length is not known, nobody can say where the run-off tab begins.
    weldTo: seamLength === undefined ? Infinity : runOn + seamLength,
    turn: assignment?.motion === 'work' && assignment.diameter !== undefined ? Math.PI * assignment.diameter : Infinity,
    thermalEfficiency, offsets, wires: runWires(assignment?.arcs ?? [], procedure.wires), fluxRatio, runGroup, alternating,
    windows: windows === null ? null : withoutUnsigned(windows, sensors), sensors,
    cooling: { thickness: assignment?.thickness ?? null, ...procedure.shapeFactors, temperature: temperature ?? declaredStart(assignment) },
  };
}

/** A current that is sent without its sign says nothing of the polarity. */
function withoutUnsigned(windows: RunWindows, sensors: Sensors | null): RunWindows {
  if (windows.polarity === undefined || sensors === null) return windows;
  const polarity = Object.entries(windows.polarity).filter(([arc]) => sensorsOfArc(sensors, Number(arc))?.signedCurrent !== false);
  return { ...windows, polarity: Object.fromEntries(polarity) };
}

function declaredStart(assignment: ParametersOf | null): StartTemperature | null {
  return assignment?.preheat === undefined ? null : { value: assignment.preheat, from: 'declared' };
}

/** The wires of the arcs that the assignment or the procedure names. */
function runWires(assigned: readonly AssignedArc[], named: ProcedureParameters['wires']): Record<number, RunWire> {
  const wires: Record<number, RunWire> = {};
  for (const [arc, own] of Object.entries(named)) wires[Number(arc)] = { ...own, extension: null };
  for (const { arc, wireDiameter, electrodeExtension } of assigned) {
    const own = wires[arc] ?? unknownWire;
    wires[arc] = { ...own, diameter: wireDiameter ?? own.diameter, extension: electrodeExtension ?? null };
  }
  return wires;
}
