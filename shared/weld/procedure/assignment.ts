export type Purpose = 'production' | 'testPiece' | 'repair' | 'tack';

/** The declared values of one arc of an assignment. */
export interface AssignedArc {
  readonly arc: number;
  readonly wireDiameter?: number | undefined;
  readonly electrodeExtension?: number | undefined;
  readonly wireLot?: string | undefined;
  /** The kg of wire on the arc's spools (all its wires together) when the run begins. */
  readonly spoolMass?: number | undefined;
}

/** How the flux was dried before use: °C, hours. Its lot is the assignment's `fluxLot`. */
export interface FluxDrying {
  readonly dried?: boolean | undefined;
  readonly temperature?: number | undefined;
  readonly hours?: number | undefined;
}

/**
 * The work that somebody at the carriage reports as done before the arc is lit; a field left out was not entered. Lots, electrode extension and wire
 * diameter are fields of the assignment itself, and `preheat` there is declared, not measured.
 */
export interface Preparation {
  readonly surfaceCleaned?: boolean | undefined;
  readonly flux?: FluxDrying | undefined;
  readonly polarityChecked?: boolean | undefined;
  /** Whether the carriage's track lies parallel to the seam. */
  readonly trackParallel?: boolean | undefined;
  /** Measured immediately before the run, °C. */
  readonly preheatMeasured?: number | undefined;
  /** Who made the last entry, and when: whole µs since 1970. */
  readonly by?: string | undefined;
  readonly at?: number | undefined;
  /** The entries that somebody at the carriage made or confirmed, each once; any other value came with the assignment. */
  readonly confirmed?: readonly ConfirmedEntry[] | undefined;
}

/** The entries that can be requested before the arc start, in the order of the work. */
export const preparationEntries = [
  'surfaceCleaned', 'fluxDried', 'fluxTemperature', 'fluxHours', 'fluxLot', 'wireLot', 'polarityChecked', 'electrodeExtension', 'wireDiameter', 'trackParallel', 'preheatMeasured',
] as const;

export type PreparationEntry = (typeof preparationEntries)[number];

/** What can be missing before the arc start: the interpass temperature is entered as a measurement. */
export const missableEntries = [...preparationEntries, 'interpassMeasured'] as const;

export type MissableEntry = (typeof missableEntries)[number];

/** One entry as somebody at the carriage confirmed it; once its value has changed, it is no longer confirmed. `at`: whole µs since 1970. */
export interface ConfirmedEntry<At = number> {
  readonly entry: PreparationEntry;
  /** Null where the entry concerns the carriage as a whole. */
  readonly arc: number | null;
  readonly value: boolean | number | string;
  readonly by: string;
  readonly at: At;
}

export const materialKinds = ['spoolChanged', 'fluxRefilled'] as const;

/** Wire or flux that was changed while the assignment was being welded. `at`: whole µs since 1970. */
export interface MaterialChange {
  readonly kind: (typeof materialKinds)[number];
  /** The arc of a spool; null for flux. */
  readonly arc: number | null;
  readonly lot: string | null;
  /** The kg on the new spool, or of the flux filled in. */
  readonly mass: number | null;
  /** Place in the run at which it was changed, mm travelled. */
  readonly travelled: number | null;
  /** The m of each of the arc's wires that the run had melted by then; null where no feed was sent. */
  readonly melted: number | null;
  readonly by: string;
  readonly at: number;
}

/** The work of a carriage from now on. Lengths mm, temperatures °C, time whole microseconds since 1970. */
export interface Assignment {
  readonly seam: string;
  readonly run: number;
  readonly time?: number | undefined;
  readonly procedure?: string | undefined;
  readonly purpose?: Purpose | undefined;
  readonly seamLength?: number | undefined;
  readonly thickness?: number | undefined;
  readonly side?: number | undefined;
  readonly datum?: string | undefined;
  readonly startOffset?: number | undefined;
  readonly direction?: 1 | -1 | undefined;
  readonly runOn?: number | undefined;
  readonly runOff?: number | undefined;
  readonly motion?: 'carriage' | 'work' | undefined;
  readonly diameter?: number | undefined;
  /** Each full turn of the work ends the run and begins the next run number, up to `lastRun`. */
  readonly turnIsRun?: boolean | undefined;
  readonly lastRun?: number | undefined;
  readonly preheat?: number | undefined;
  readonly operator?: string | undefined;
  readonly arcs?: readonly AssignedArc[] | undefined;
  readonly fluxLot?: string | undefined;
  readonly preparation?: Preparation | undefined;
  /** Changes of wire and flux, the oldest first. */
  readonly materials?: readonly MaterialChange[] | undefined;
  readonly simulated?: boolean | undefined;
}
