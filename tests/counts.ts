/** Whether counts and seeds are those for merging a change (`npm run check -- --full`), or fewer, so that `npm run check` ends soon. */
export const isFull = process.env['CHECK_COUNTS'] === 'full';

/** How much is done of one thing. */
interface Counts {
  readonly soon: number;
  readonly full: number;
}

/** How often something is done: as its name says in the environment, or else so much. */
export function countFrom(name: string, otherwise: number | Counts): number {
  const text = process.env[name];
  if (text === undefined || text === '') return typeof otherwise === 'number' ? otherwise : otherwise[isFull ? 'full' : 'soon'];
  const value = Number(text);
  if (!Number.isInteger(value) || value < 1) throw new RangeError(`${name}: got ${JSON.stringify(text)}, expected a whole number from 1`);
  return value;
}
