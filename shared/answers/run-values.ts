import type { Run } from '../api-types/run.js';
import { isOfArc, type CapabilityName } from '../weld/capability/capability-quantities.js';

/** What of a run's record capability needs. */
export interface RunValues {
  readonly id: string;
  readonly endedAt: string | null;
  readonly production: boolean;
  readonly runGroup: string | null;
  /** Where its limits are found. */
  readonly revision: number | null;
  readonly run: number | null;
  readonly side: number | undefined;
  readonly arcs: NonNullable<Run['weldZone']['arcs']>;
  readonly travelSpeed: number | null;
  readonly heatInput: number | null;
  readonly t85: number | null;
}

export function runValues(record: Run): RunValues {
  const { id, endedAt, assignment, runGroup, procedure, run, weldZone, t85 } = record;
  return {
    id, endedAt, production: assignment?.purpose === undefined || assignment.purpose === 'production',
    runGroup, revision: procedure?.revision ?? null, run, side: assignment?.side,
    arcs: weldZone.arcs ?? [], travelSpeed: weldZone.travelSpeed, heatInput: weldZone.heatInput, t85: t85?.value ?? null,
  };
}

/** The one value of a run: its mean over the weld zone; null where it has none. `arc` counts for quantities of arcs alone. */
export function valueOf(values: RunValues, quantity: CapabilityName, arc: number | null): number | null {
  if (!isOfArc(quantity)) return values[quantity];
  return values.arcs.find((own) => own.arc === arc)?.[quantity] ?? null;
}
