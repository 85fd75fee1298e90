import type { MeasurementPlace } from '../../../shared/weld/temperatures/measurement.js';
import type { Carriage } from './carriage.js';

/**
 * Where the carriage's own sensor measured the plate for a run (null: for the run to come); null if nobody said. As long as carriages are told nothing of their
 * sensors, what is sent as `plateTemperature` is shown and never counts.
 */
export const platePlaceOf: (carriage: Pick<Carriage, 'intake'>, run: { readonly start: number } | null) => MeasurementPlace | null = () => null;
