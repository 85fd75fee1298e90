import type { Generated } from 'kysely';
import type { MeasurementKind, MeasurementPlace } from '../weld/temperatures/measurement.js';

/** What was declared of a carriage's sensors. */
export interface SensorTable {
  stream_id: number;
  /** Counts from 1. */
  revision: number;
  at: number;
  by: string;
  /** JSON of the place after which it holds; null where it holds from the first item on. */
  after: string | null;
  /** JSON of the sensors. */
  body: string;
  row_sum: number | null;
}

/** How long an arc of a run was in which cell of voltage and current. */
export interface DensityTable {
  run_id: string;
  arc: number;
  /** JSON of a list of voltage bin, current bin and time, s. */
  cells: string;
  row_sum: number | null;
}

/** A temperature of the plate that somebody entered (migrations/0030-temperatures.ts). */
export interface TemperatureTable {
  /** Counts up in the order in which they were entered. */
  number: Generated<number>;
  /** Opaque, URL-safe. */
  id: string;
  stream_id: number;
  /** Null for one entered at the carriage. */
  run_id: string | null;
  kind: MeasurementKind;
  /** °C. */
  value: number;
  /** µs since 1970, by the clock of the carriage. */
  at: number;
  seam: string | null;
  place: MeasurementPlace;
  /** mm, as is the distance from the edge of the groove. */
  seam_position: number | null;
  distance: number | null;
  instrument: string | null;
  by: string;
  reason: string | null;
  /** µs since 1970, by the clock of the service. */
  entered: number;
  withdrawn_at: number | null;
  withdrawn_by: string | null;
  withdrawn_reason: string | null;
  row_sum: number | null;
}
