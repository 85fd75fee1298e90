const millimetresPerInch = 25.4;
const kilogramsPerPound = 0.45359237;
/** Density of the steel wire, kg/m³. */
const wireDensity = 7850;

/** A wire and how far it stands out of the contact tube, mm. */
export interface Electrode {
  readonly wireDiameter: number;
  readonly extension: number;
}

/**
 * Mass of wire melted in kg/min at `current` A: arc heat plus the heating of the extension by the current.
 * Wilson, Claussen and Jackson 1956, `(I/1000)·[0.35 + d² + 2.08e-7·(I·L/d²)^1.22]` lb/min with d and L in inch.
 * The formula is given from memory; a printed example (350 A, 3/32 in, 1 in: 9.9 lb/h) is met within 6 %.
 */
export function meltingRate(current: number, electrode: Electrode): number {
  const diameter = electrode.wireDiameter / millimetresPerInch;
  const extension = electrode.extension / millimetresPerInch;
  const area = diameter * diameter;
  const perThousandAmperes = 0.35 + area + 2.08e-7 * ((current * extension) / area) ** 1.22;
  return (current / 1000) * perThousandAmperes * kilogramsPerPound;
}

/** Wire feed speed in m/min that the arc melts at `current` A: melting rate over the wire's mass per metre. */
export function meltedFeedSpeed(current: number, electrode: Electrode): number {
  const massPerMetre = (Math.PI / 4) * electrode.wireDiameter ** 2 * 1e-6 * wireDensity;
  return meltingRate(current, electrode) / massPerMetre;
}

/** Current in A at which the arc melts the wire just as fast as it is fed (m/min), to a millionth of an ampere. */
export function meltingCurrent(feedSpeed: number, electrode: Electrode): number {
  let low = 0;
  let high = 5000;
  // Newton's step inside a bracket: the rate grows faster than linearly, so the bracket only guards the start.
  let current = 600;
  for (let step = 0; step < 60; step += 1) {
    const excess = meltedFeedSpeed(current, electrode) - feedSpeed;
    if (excess > 0) high = current;
    else low = current;
    const slope = (meltedFeedSpeed(current + 0.01, electrode) - meltedFeedSpeed(current - 0.01, electrode)) / 0.02;
    const newton = current - excess / slope;
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    if (Math.abs(next - current) < 1e-6) return next;
    current = next;
  }
  return current;
}
