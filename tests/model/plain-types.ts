import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import type { PlainWindow } from './window-types.js';
import type { ReceivedItem } from '../../shared/weld/items/item.js';
import type { PlainCooling, PlainShape } from './plain-cooling.js';

/** An assignment with the place in the canonical order from which it applies. */
export interface PlacedAssignment {
  /** It applies from the item after this index; -1 means from the very first item. */
  readonly after: number;
  readonly assignment: Assignment | null;
}

/** What a procedure contributes to the figures; times in s, lengths in mm. */
export interface PlainProcedure {
  readonly thermalEfficiency: number;
  readonly ignitionTime: number;
  readonly ignitionLength: number;
  readonly craterTime: number;
  /** Distance behind arc 1, by arc number. */
  readonly offsets: ReadonlyMap<number, number>;
  /** Arcs on alternating current according to the procedure. */
  readonly alternating: ReadonlySet<number>;
  readonly shape: PlainShape;
  readonly wires: ReadonlyMap<number, PlainWire>;
  /** kg of flux per kg of weld metal. */
  readonly fluxRatio: number;
}

/** The wire of an arc by the procedure; lengths mm. */
export interface PlainWire {
  readonly diameter: number | null;
  readonly count: number;
  readonly recovery: number;
  readonly extension: PlainWindow | null;
}

/** An item with its corrected time. All times of the model are µs from `base`, a multiple of 100 ms. */
export interface TimedItem {
  readonly item: ReceivedItem;
  /** Place in the canonical order. */
  readonly index: number;
  readonly start: number;
  /** The device clock did not advance here, and the usual interval was used instead. */
  readonly stepped: boolean;
  readonly byArrival: boolean;
  /** The first item of its arc in a boot whose time does not continue. */
  readonly broken: boolean;
}

/** One value (or its part within one row) and how long it applies. */
export interface Segment {
  readonly arc: number;
  readonly index: number;
  readonly start: number;
  readonly end: number;
  readonly current: number;
  /** At the arc. */
  readonly voltage: number;
  /** As it was sent, where it was corrected for the cable; else null. */
  readonly rawVoltage: number | null;
  /** m/min; null where it was not sent. */
  readonly wireFeedSpeed: number | null;
  /** Sample interval in µs; null for a reading. */
  readonly interval: number | null;
  /** 100 ms row of the corrected time. */
  readonly row: number;
  /** Whether the sample begins here; false for the rest of a sample that reaches into the next row. */
  readonly begins: boolean;
  readonly broken: boolean;
}

export interface Span {
  readonly from: number;
  readonly to: number;
}

export interface Gap extends Span {
  readonly arc: number;
  /** The item before the gap. */
  readonly index: number;
}

/** A stretch of an arc in one run: from being lit (or taken over) until out (or handed on). */
export interface Burn extends Span {
  readonly arc: number;
  readonly era: number;
  readonly lit: boolean;
  readonly out: boolean;
  readonly segments: readonly Segment[];
}

export interface Statistics {
  readonly mean: number;
  readonly min: number;
  readonly max: number;
  readonly standardDeviation: number;
}

export interface PlainArc {
  readonly arc: number;
  readonly current: (Statistics & { readonly rms: number }) | null;
  readonly voltage: (Statistics & { readonly rms: number }) | null;
  readonly voltageRaw: (Statistics & { readonly rms: number }) | null;
  readonly energy: number;
  readonly arcTime: number;
  readonly length: number | null;
  readonly samples: number;
  readonly currentVariation: number | null;
  readonly voltageVariation: number | null;
  readonly ac: PlainAc | null;
  readonly ripple: number | null;
  readonly extinctions: number | null;
  readonly shortCircuits: number | null;
  readonly currentDensity: number | null;
  readonly extension: PlainExtension;
}

export interface PlainAc {
  readonly currentRms: number;
  readonly voltageRms: number;
  readonly balance: number | null;
  readonly currentOffset: number | null;
  readonly powerFactor: number | null;
}

export interface PlainExtension {
  readonly declared: number | null;
  readonly ratioToDiameter: number | null;
  readonly procedure: 'inside' | 'outside' | null;
  readonly trade: 'inside' | 'outside' | null;
  readonly driftEstimate: number | null;
  readonly estimatedFrom: { readonly factor: number; readonly first: PlainMeans; readonly last: PlainMeans } | null;
}

/** Means over 100 mm of weld: A, m/min. */
export interface PlainMeans {
  readonly current: number;
  readonly wireFeedSpeed: number;
}

/** By how much figures of an arc's extension may differ where they are made from rows of 100 ms; Infinity where they may be missing. */
export interface ExtensionSlack {
  readonly current: number;
  readonly feed: number;
  readonly factor: number;
  readonly drift: number;
}

export interface PlainDeposit {
  readonly wireLength: number | null;
  readonly wireMass: number | null;
  readonly mass: number | null;
  readonly rate: number | null;
  readonly massPerLength: number | null;
  readonly fluxMass: number | null;
}

/** Means of an arc over the weld zone. */
export interface PlainWeldMeans {
  readonly arc: number;
  readonly current: number | null;
  readonly voltage: number | null;
  readonly wireFeedSpeed: number | null;
}

export interface PlainRestart {
  readonly stoppedAt: number;
  readonly stoppedTravelled: number | null;
  readonly restartedAt: number;
  readonly restartedTravelled: number | null;
  readonly overlap: number | null;
  readonly positionConfirmed: boolean;
}

/** The figures of one run under the names of the API; instants in µs since 1970, everything else in the units of the interface. */
export interface PlainRun {
  readonly seam: string | null;
  readonly run: number | null;
  readonly attempt: number;
  readonly assigned: boolean;
  readonly assignment: Assignment | null;
  readonly startedAt: number;
  readonly endedAt: number;
  readonly arcTime: number;
  readonly length: number | null;
  readonly lengths: Readonly<Record<'inside' | 'outside' | 'notProven' | 'excluded', number>> | null;
  readonly energy: number;
  readonly arcEnergy: number | null;
  readonly thermalEfficiency: number;
  readonly heatInput: number | null;
  readonly method: 'instantaneous' | 'average';
  readonly weldZone: { readonly length: number | null; readonly arcTime: number; readonly energy: number; readonly heatInput: number | null; readonly travelSpeed: number | null; readonly arcs: readonly PlainWeldMeans[] };
  /** How long the means of the weld zone were known: of the speed, at 0, and of each arc's current and voltage, s. */
  readonly weldTimes: ReadonlyMap<number, number>;
  readonly t85: PlainCooling | null;
  readonly deposit: PlainDeposit;
  readonly electricity: { readonly energy: number; readonly duty: number | null };
  /** How long each arc was in which cell, s, by the cell's two numbers. */
  readonly density: ReadonlyMap<number, ReadonlyMap<string, number>>;
  /** For the comparison, by arc. */
  readonly extensionSlack: ReadonlyMap<number, ExtensionSlack>;
  readonly travelSpeed: Statistics | null;
  readonly arcs: readonly PlainArc[];
  readonly restarts: readonly PlainRestart[];
  readonly dataGaps: readonly {
    readonly fromTime: number;
    readonly toTime: number;
    readonly fromTravelled: number | null;
    readonly toTravelled: number | null;
  }[];
  readonly clock: 'steady' | 'stepped' | 'arrival';
  readonly identity: 'full' | 'time' | 'none';
  readonly complete: boolean;
  readonly litElsewhere: boolean;
  readonly flags: readonly string[];
}
