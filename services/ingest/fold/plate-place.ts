import type { MeasurementPlace } from '../../../shared/weld/temperatures/measurement.js';
import { sensorsOf } from '../../../shared/weld/run/sensor-timeline.js';
import type { Carriage } from './carriage.js';

/** Where the carriage's own sensor measured the plate, by the declaration of sensors with that index; null if nobody said. */
export function platePlaceOf({ intake }: Pick<Carriage, 'intake'>, sensors: number | undefined): MeasurementPlace | null {
  return sensorsOf(intake.sensors, sensors ?? -1)?.plateTemperaturePlace ?? null;
}
