/** Whether two numbers are the same to the last bit (all NaNs count as equal), as `Object.is` says; unlike a call of that, this is inlined. */
export function same(a: number, b: number): boolean {
  return a === b ? a !== 0 || 1 / a === 1 / b : Number.isNaN(a) && Number.isNaN(b);
}
