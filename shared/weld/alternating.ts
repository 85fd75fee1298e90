/** Current that swings past this on both sides of zero alternates, A; less is a sensor's noise. Common practice, no source. */
const alternatingFrom = 20;

/** Whether current between these extremes, A, alternates: of a row, or of a block. */
export function swings(min: number, max: number): boolean {
  return min <= -alternatingFrom && max >= alternatingFrom;
}
