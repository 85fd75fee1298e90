/** Standard deviation of the population out of the integrals of a value and of its square over `time`. What the last bits leave of a constant value is no spread. */
export function standardDeviation(time: number, integral: number, squared: number): number {
  const mean = integral / time;
  const variance = squared / time - mean * mean;
  return variance > mean * mean * 1e-14 ? Math.sqrt(variance) : 0;
}
