import type { Sensors } from '../../shared/weld/procedure/sensors.js';
import type { MeasurementKind, MeasurementPlace } from '../../shared/weld/temperatures/measurement.js';
import type { SpreadName } from '../../shared/weld/quantities.js';
import type { WindowProcedure } from '../model/window-types.js';

/** How a value changes over time; see README.md in this folder. */
export type Wave =
  | number
  | { readonly cycle: readonly number[] }
  | { readonly pulse: { readonly period: number; readonly width: number; readonly high: number; readonly low: number } }
  | { readonly sine: { readonly rms: number; readonly hertz: number; readonly lag?: number } }
  | { readonly ramp: { readonly from: number; readonly perSecond: number; readonly jitter?: readonly number[] } };

export interface CaseArc extends Readonly<Partial<Record<SpreadName, Wave>>> {
  readonly arc: number;
  readonly current: Wave;
  readonly voltage: Wave;
  readonly plateTemperature?: Wave;
}

export interface Stretch {
  /** Times of the first and the last message, s after the start of the case. */
  readonly from: number;
  readonly to: number;
  /** Interval between messages, ms. */
  readonly every: number;
  /** Samples in a block and their interval in ms; absent for readings. */
  readonly block?: number;
  readonly interval?: number;
  /** ms added to the device time of the messages, in turn. */
  readonly lateBy?: readonly number[];
  readonly travelSpeed?: Wave;
  readonly travel?: Wave;
  readonly arcs: readonly CaseArc[];
}

export interface CaseFile {
  readonly title: string;
  readonly source: string;
  readonly start?: string;
  /** If null, neither boot nor seq is sent. */
  readonly boot?: string | null;
  readonly boots?: readonly { readonly from: number; readonly boot: string }[];
  readonly clock?: readonly { readonly from: number; readonly shift: number }[];
  /** Messages that never arrive, although their seq is used up. */
  readonly lost?: readonly { readonly from: number; readonly to: number }[];
  readonly stretches: readonly Stretch[];
  readonly assignments?: readonly { readonly after: number | 'start' | 'end'; readonly assignment: Readonly<Record<string, unknown>> | null }[];
  /** Messages made from `from` to `to` arrive after those made up to `until`, in their own order. */
  readonly delayed?: readonly { readonly from: number; readonly to: number; readonly until: number | 'end' }[];
  readonly procedures?: readonly CaseProcedure[];
  /** Declared before anything is sent. */
  readonly sensors?: Sensors;
  /** Entered after the messages made up to `after`. */
  readonly temperatures?: readonly CaseTemperature[];
  /** Revisions posted after the messages made up to `after`. */
  readonly revisions?: readonly { readonly after: number; readonly procedure: CaseProcedure }[];
}

/** A temperature of the plate, entered at the carriage, or at its run number `of` of those so far, from 0. */
export interface CaseTemperature {
  readonly after: number | 'start' | 'end';
  readonly of?: number;
  /** When it was measured, s after the start of the case. */
  readonly at: number;
  readonly kind: MeasurementKind;
  readonly value: number;
  /** At a carriage, that of the assignment in force where absent. */
  readonly seam?: string | null;
  readonly place?: MeasurementPlace;
}

export type CaseProcedure = WindowProcedure & Readonly<Record<string, unknown>>;

export type Expected =
  | number
  | string
  | boolean
  | null
  | { readonly value: number; readonly digits: number }
  | { readonly at: number };

/** The expected value of each figure, by its path. */
export type ExpectedFigures = Readonly<Record<string, Expected>>;

export interface ExpectedRun {
  readonly figures: ExpectedFigures;
  /** All of the run's excursions, in the order of `inOrder`; null if the case does not list them. */
  readonly excursions: readonly ExpectedFigures[] | null;
}

export interface ExpectedFile {
  readonly runs: readonly ExpectedRun[];
  /** All alarms of the carriage, in the order in which they are raised; null if the case does not list them. */
  readonly alarms: readonly ExpectedFigures[] | null;
  /** Columns of `/api/runs/{id}/profile` of the first run: what is expected of the bin of 10 mm that begins at `travelled`. */
  readonly profile?: readonly ({ readonly travelled: number } & ExpectedFigures)[];
}
