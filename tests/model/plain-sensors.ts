import type { ArcSensors, Sensors } from '../../shared/weld/procedure/sensors.js';
import type { Segment, Statistics } from './plain-types.js';
import { rootMeanSquare, weigh } from './weighted.js';

/** What was declared for an arc; undefined where nothing was. */
export function declaredFor(sensors: Sensors | null, arc: number): ArcSensors | undefined {
  return sensors?.arcs?.find((own) => own.arc === arc);
}

export function sendsSigns(sensors: Sensors | null, arc: number): boolean {
  const { signedCurrent = true, signedVoltage = true } = declaredFor(sensors, arc) ?? {};
  return signedCurrent && signedVoltage;
}

/** A sample's voltage at the arc, and as it was sent where that is another: picked up at the source, it contains the drop in cables of so many mΩ, out and back. */
export function voltageAtArc(voltage: number, current: number, own: ArcSensors | undefined): Pick<Segment, 'voltage' | 'rawVoltage'> {
  if (own?.voltagePickup !== 'source' || own.cableResistance === undefined) return { voltage, rawVoltage: null };
  const { signedCurrent = true, signedVoltage = true } = own;
  const drop = (current * own.cableResistance) / 1000;
  // What has no sign on one side has that of the other.
  const towards = voltage > 0 ? Math.abs(drop) : voltage < 0 ? -Math.abs(drop) : 0;
  return { voltage: voltage - (signedCurrent === signedVoltage ? drop : towards), rawVoltage: voltage };
}

const secondsOf = (segment: Segment): number => (segment.end - segment.start) / 1_000_000;

/** The voltage as it was sent, sample by sample; null where nothing was corrected. */
export function plainRawVoltage(segments: readonly Segment[]): (Statistics & { readonly rms: number }) | null {
  const sent = segments.flatMap((segment) => (segment.rawVoltage === null ? [] : [{ value: segment.rawVoltage, weight: secondsOf(segment) }]));
  const statistics = weigh(sent);
  return statistics === null ? null : { ...statistics, rms: rootMeanSquare(sent) };
}

/** Samples further apart do not count, µs. */
const densityInterval = 5_000;

/** How long the arc was in each cell of 1 V and 10 A, s, by their numbers, such as `28 60`. */
export function plainDensity(segments: readonly Segment[]): Map<string, number> {
  const cells = new Map<string, number>();
  for (const segment of segments) {
    if (segment.interval === null || segment.interval > densityInterval) continue;
    const cell = `${Math.floor(Math.abs(segment.voltage))} ${Math.floor(Math.abs(segment.current) / 10)}`;
    cells.set(cell, (cells.get(cell) ?? 0) + secondsOf(segment));
  }
  return cells;
}
