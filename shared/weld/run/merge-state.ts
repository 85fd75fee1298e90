import type { RowRoom } from '../rows/row-group.js';
import type { PlateSamples, RunBeginning } from '../temperatures/plate-samples.js';
import { cloneRun, type RunState } from './run-state.js';
import type { WeldSettings } from '../weld-settings.js';
import type { RunParameters } from '../procedure/zone.js';

/** The questions about assignments that arise when arcs are merged into rows and runs. */
export interface RunContext {
  readonly settings: WeldSettings;
  /** Whether the entry with this index is an assignment in force; -1 and ended ones are not. */
  assigned(epoch: number): boolean;
  /** Whether both indexes mean the same seam and run, with no other assignment in between. */
  sameRun(before: number, epoch: number): boolean;
  /** Of the run with that ordinal, which begins under `epoch` in that way; `sensors` is the declaration by which its values are read (-1 without one). */
  parameters(epoch: number, begin: RunBeginning & { readonly ordinal: number; readonly sensors: number }): RunParameters;
  /** The length of the turns by which one epoch leads to another, mm; null where they are not of one series. */
  turnsBetween(before: number, epoch: number): number | null;
}

/** Receives the output, in order. */
export interface RunSink {
  /** The memory for the rows. */
  readonly room: RowRoom;
  row(run: RunState, rows: Float64Array, at: number): void;
  began(run: RunState): void;
  finished(run: RunState): void;
}

export interface MergeState {
  /** Index of the next row. */
  next: number | null;
  epoch: number;
  ordinal: number;
  /** The run that is open, including while no arc burns. */
  run: RunState | null;
  /** The last assigned run, which is continued when an arc is lit for the same seam and run. */
  resumable: RunState | null;
  /** When the newest run began, µs; null before the first. */
  began: number | null;
  /** The temperatures of the plate that were sent last. */
  plate: PlateSamples;
}

export function startMerge(): MergeState {
  return { next: null, epoch: -1, ordinal: 0, run: null, resumable: null, began: null, plate: [] };
}

export function cloneMerge(state: MergeState): MergeState {
  return {
    ...state, run: state.run === null ? null : cloneRun(state.run), resumable: state.resumable === null ? null : cloneRun(state.resumable),
    plate: state.plate.slice(),
  };
}
