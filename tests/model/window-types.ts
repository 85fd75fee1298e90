import { spreadNames } from '../../shared/weld/quantities.js';
import type { RunRowGroup } from '../named-rows.js';

/** Lowest and highest allowed value; either end may be absent. */
export interface PlainWindow {
  readonly min?: number;
  readonly max?: number;
}

/** The quantities by which an arc of a procedure is judged, under the names of the procedure. */
export const arcWindowNames = ['current', 'voltage', ...spreadNames, 'currentVariation', 'voltageVariation'] as const;
export type ArcWindowName = (typeof arcWindowNames)[number];

/** What a procedure says of the wire of an arc. */
export interface WireFields {
  readonly wireDiameter?: number;
  readonly wires?: number;
  readonly recovery?: number;
  readonly electrodeExtension?: PlainWindow;
}

/** The windows of a procedure as it is posted; times in s, lengths in mm. */
export interface WindowProcedure {
  readonly id: string;
  readonly thermalEfficiency?: number;
  readonly fluxRatio?: number;
  readonly runGroups: readonly {
    readonly side?: number;
    readonly runs: readonly [number, number];
    readonly arcs?: readonly ({ readonly arc: number; readonly offset?: number; readonly currentType?: 'DC' | 'AC' } & WireFields & { readonly [Name in ArcWindowName]?: PlainWindow })[];
    readonly travelSpeed?: PlainWindow;
    readonly heatInput?: PlainWindow;
    readonly t85?: PlainWindow;
    readonly shapeFactors?: { readonly f2?: number; readonly f3?: number };
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
  /** The burning to which the row belongs, counted from 0; -1 if nothing burnt. */
  readonly burn: number;
  /** Whether at least half of the burning was weld. */
  readonly weld: boolean;
  /** Whether some of the burning was weld. */
  readonly someWeld: boolean;
}

export interface ZonedRow {
  readonly group: RunRowGroup;
  /** µs since 1970. */
  readonly start: number;
  readonly run: Share;
  readonly arcs: ReadonlyMap<number, Share>;
  /** The run's travel with an arc on, mm: in a gap, outside of `weld`, in `weld`. */
  readonly gapLength: number;
  readonly excludedLength: number;
  readonly weldLength: number;
  /** How much the split would differ if the travel in the row were even, mm. */
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
