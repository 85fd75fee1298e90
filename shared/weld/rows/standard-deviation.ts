/** Standard deviation of the population from the integrals of a value and of its square over `time`. A rounding error of a constant gives 0. */
export function standardDeviation(time: number, integral: number, squared: number): number {
  const mean = integral / time;
  const variance = squared / time - mean * mean;
  return variance > mean * mean * 1e-14 ? Math.sqrt(variance) : 0;
}
