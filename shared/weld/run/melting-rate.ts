/** kg of one pound and mm of one inch, exactly: the equation below is in lb and in. */
const pound = 0.45359237;
const inch = 25.4;

/*
 * Melting rate against current and extension of the electrode (Wilson, Claussen and Jackson, 1956), lb/min with d and L in inch:
 * W = (I/1000)·[0.35 + d² + 2.08e-7·(I·L/d²)^1.22]. Quoted from memory; 350 A, 3/32 in and 1 in give 9.32 lb/h where conference slides on
 * submerged arc print 9.9.
 */
const constant = 0.35;
const heating = 2.08e-7;
const exponent = 1.22;

/** Melting rate of one wire, kg/min: `current` A, `diameter` and `extension` mm. */
export function meltingRate(current: number, diameter: number, extension: number): number {
  const d = diameter / inch;
  return (current / 1000) * (constant + d ** 2 + heating * ((current * (extension / inch)) / d ** 2) ** exponent) * pound;
}

/** The extension, mm, at which a wire of `diameter` mm melts at `rate` kg/min; NaN where there is none. The rate grows with the extension, so there is at most one. */
export function extensionAt(rate: number, current: number, diameter: number): number {
  const d = diameter / inch;
  const byHeating = ((rate / pound) * 1000) / current - constant - d ** 2;
  return byHeating > 0 ? (((byHeating / heating) ** (1 / exponent) * d ** 2) / current) * inch : Number.NaN;
}
