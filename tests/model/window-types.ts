import { spreadNames } from '../../shared/weld/quantities.js';
import type { RunRowGroup } from '../named-rows.js';

/** Lowest and highest allowed value; either end may be absent. */
export interface PlainWindow {
  readonly min?: number;
  readonly max?: number;
}

/** What an arc of a procedure is judged by, under the names of the procedure. */
export const arcWindowNames = ['current', 'voltage', ...spreadNames, 'currentVariation', 'voltageVariation'] as const;
export type ArcWindowName = (typeof arcWindowNames)[number];

/** A procedure as it is posted, as far as windows go; times in s, lengths in mm. */
export interface WindowProcedure {
  readonly id: string;
  readonly thermalEfficiency?: number;
  readonly runGroups: readonly {
    readonly side?: number;
    readonly runs: readonly [number, number];
    readonly arcs?: readonly ({ readonly arc: number; readonly offset?: number; readonly currentType?: 'DC' | 'AC' } & { readonly [Name in ArcWindowName]?: PlainWindow })[];
    readonly travelSpeed?: PlainWindow;
    readonly heatInput?: PlainWindow;
  }[];
  readonly alarm?: {
    readonly smoothing?: number;
    readonly onDelay?: number;
    readonly offDelay?: number;
    readonly deadband?: number;
    readonly heatInputLength?: number;
    readonly ignitionTime?: number;
    readonly ignitionLength?: number;
    readonly craterTime?: number;
  };
}

/** What happened in one row to an arc, or to the run (arc null). */
export interface Share {
  /** Which burning the row belongs to, counted from 0; -1 where nothing burnt. */
  readonly burn: number;
  /** At least half of the burning was weld. */
  readonly weld: boolean;
  /** Some of it was. */
  readonly someWeld: boolean;
}

export interface ZonedRow {
  readonly group: RunRowGroup;
  /** µs since 1970. */
  readonly start: number;
  readonly run: Share;
  readonly arcs: ReadonlyMap<number, Share>;
  /** mm of the run's travel with an arc on: in a gap, outside of `weld`, in `weld`. */
  readonly gapLength: number;
  readonly excludedLength: number;
  readonly weldLength: number;
  /** mm by which the split would differ if the row were travelled evenly. */
  readonly uneven: number;
}

/** One judged value: that of a row of 100 ms. */
export interface Judged {
  readonly row: ZonedRow;
  readonly value: number;
}

export interface PlainExcursion {
  readonly arc: number | null;
  readonly quantity: string;
  readonly limit: number;
  readonly worst: number;
  /** µs since 1970, borders of rows; `to` is null while it lasts. */
  readonly from: number;
  readonly to: number | null;
}
