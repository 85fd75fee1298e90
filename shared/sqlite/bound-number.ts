/**
 * The number that is stored for one. @photostructure/sqlite 1.2.1 takes a number less than 2^-52 above a whole one as an integer, and drops what is behind its
 * decimal point: numbers just above 0 and just above -1 become 0. Any other is stored to the last bit.
 */
export function boundNumber(value: number): number {
  return value - Math.floor(value) < Number.EPSILON ? Math.trunc(value) : value;
}
