export type Purpose = 'production' | 'testPiece' | 'repair' | 'tack';

/** What one arc of an assignment declares. */
export interface AssignedArc {
  readonly arc: number;
  readonly wireDiameter?: number | undefined;
  readonly electrodeExtension?: number | undefined;
  readonly wireLot?: string | undefined;
}

/** What a carriage is welding from now on. Lengths mm, temperatures °C, time whole microseconds since 1970. */
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
  readonly preheat?: number | undefined;
  readonly operator?: string | undefined;
  readonly arcs?: readonly AssignedArc[] | undefined;
  readonly fluxLot?: string | undefined;
  readonly simulated?: boolean | undefined;
}
