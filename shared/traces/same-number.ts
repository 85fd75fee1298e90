/** Whether two numbers are the same to the last bit (every NaN being one and the same), as `Object.is`; that one is called, this one is built in. */
export function same(a: number, b: number): boolean {
  return a === b ? a !== 0 || 1 / a === 1 / b : Number.isNaN(a) && Number.isNaN(b);
}
