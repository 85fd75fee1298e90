import type { Sensors } from '../../shared/weld/procedure/sensors.js';
import type { CarriagePlan } from './carriage-plan.js';

const day = 86_400_000;
/** Days since the meters were calibrated, and for how many that holds. */
const calibratedAgo = 120;
const holds = 365;
/** The meters of the carriage whose extension drifts are past due, so that its runs show the mark. */
const forgottenAgo = 400;

/** What is declared of a simulated carriage's sensors at a time, ms since 1970; all of it is invented. */
export function simulatedSensors({ carriage, arcs, ring, events }: CarriagePlan, now: number): Sensors {
  const calibrated = now - (events.every((kind) => kind === 'extensionDrift') ? forgottenAgo : calibratedAgo) * day;
  return {
    travelSource: ring ? 'rotator' : 'encoder',
    travelCalibrationDue: dateOf(now + (holds - calibratedAgo) * day),
    // The probe runs in front of the arcs, so what it shows counts as the plate's temperature before the next run.
    plateTemperaturePlace: 'ahead',
    arcs: arcs.map(({ arc }) => ({
      arc, voltagePickup: 'contactTube', currentSensor: 'hall', serial: `DEMO-${carriage}-${String(arc)}`, calibratedAt: dateOf(calibrated), calibrationDue: dateOf(calibrated + holds * day),
    })),
  };
}

function dateOf(time: number): string {
  return new Date(time).toISOString().slice(0, 10);
}
