/** Where the travel of a carriage comes from: measured by an encoder or a rotator, or declared, as a set point or by a stopwatch. */
export const travelSources = ['encoder', 'rotator', 'setPoint', 'stopwatch'] as const;
export const voltagePickups = ['source', 'contactTube'] as const;
export const currentSensors = ['shunt', 'hall'] as const;
export const platePlaces = ['ahead', 'behind'] as const;

/** The sensors of one arc as declared. Dates are ISO 8601 calendar dates. */
export interface ArcSensors {
  readonly arc: number;
  /** Where the voltage is picked up: at the power source, so that it includes the drop in the cables, or at the contact tube. */
  readonly voltagePickup?: (typeof voltagePickups)[number] | undefined;
  /** Resistance of the welding cables, mΩ, of the way out and back together. */
  readonly cableResistance?: number | undefined;
  readonly currentSensor?: (typeof currentSensors)[number] | undefined;
  /** Whether the values are sent with their sign; they are where this is absent. */
  readonly signedCurrent?: boolean | undefined;
  readonly signedVoltage?: boolean | undefined;
  readonly serial?: string | undefined;
  readonly calibratedAt?: string | undefined;
  readonly calibrationDue?: string | undefined;
}

/** The sensors of a carriage as declared. */
export interface Sensors {
  readonly travelSource?: (typeof travelSources)[number] | undefined;
  readonly travelCalibrationDue?: string | undefined;
  /** Whether the plate temperature that the carriage sends is taken ahead of the arcs or behind them. */
  readonly plateTemperaturePlace?: (typeof platePlaces)[number] | undefined;
  readonly arcs?: readonly ArcSensors[] | undefined;
}

export function sensorsOfArc(sensors: Sensors | null, arc: number): ArcSensors | undefined {
  return sensors?.arcs?.find((own) => own.arc === arc);
}

/** Whether current and voltage of an arc are both sent with their signs. */
export function isSigned(sensors: Sensors | null, arc: number): boolean {
  const own = sensorsOfArc(sensors, arc);
  return own?.signedCurrent !== false && own?.signedVoltage !== false;
}

/** Whether lengths and speeds rest on a measurement, or on a set point or a stopwatch; null where nothing was declared. */
export function travelBasis(sensors: Sensors | null): 'measured' | 'declared' | null {
  const source = sensors?.travelSource;
  if (source === undefined) return null;
  return source === 'encoder' || source === 'rotator' ? 'measured' : 'declared';
}

/**
 * What was past its due date on a calendar date (ISO 8601): `current arc N` and `voltage arc N` by the date of the arc, and `travel`. A due date holds to
 * its end, so a sensor is past due from the day after.
 */
export function pastDue(sensors: Sensors, date: string): string[] {
  const isPast = (due: string | undefined): boolean => due !== undefined && date > due;
  const arcs = (sensors.arcs ?? []).filter(({ calibrationDue }) => isPast(calibrationDue)).toSorted((a, b) => a.arc - b.arc);
  return [...arcs.flatMap(({ arc }) => [`current arc ${arc}`, `voltage arc ${arc}`]), ...(isPast(sensors.travelCalibrationDue) ? ['travel'] : [])];
}
