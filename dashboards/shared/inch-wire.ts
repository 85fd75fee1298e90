/** Diameters in which welding wire is sold by the inch, as numerator and denominator; common practice, no source. */
const sizes = [[1, 16], [5, 64], [3, 32], [7, 64], [1, 8], [5, 32], [3, 16], [7, 32], [1, 4]] as const;

const inch = 25.4;

/** How far a metric wire may be from the inch size it is sold as, mm: 4 mm as 5/32 in, 6.4 mm as 1/4 in. */
const nominal = 0.05;

/** The inch size of a wire of that diameter (mm), such as 5/32; null if it has none. */
export function inchWire(diameter: number): string | null {
  const found = sizes.find(([over, under]) => Math.abs((over / under) * inch - diameter) <= nominal + 1e-9);
  return found === undefined ? null : `${found[0]}/${found[1]}`;
}
