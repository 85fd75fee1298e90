import { quantities, spreadNames, type SpreadColumn } from '../weld/quantities.js';
import { laterElectric } from '../weld/rows/row.js';

/*
 * Columns that were added after the first formats, five at a time: those of the electric values, then those of each quantity that was added, in the
 * order of the table, so that a further quantity follows those before it.
 */

export type LaterColumn = (typeof laterElectric)[number] | SpreadColumn;

/** The columns of one addition, each with the value that it has in rows of an earlier format, as if it had not been noted or sent. */
type Added = readonly (readonly [column: LaterColumn, before: number])[];

const electric: Added = laterElectric.map((name) => [name, Number.NaN]);

/** Wire feed speed, the first in the table, was there from the beginning. */
const spreads: readonly Added[] = spreadNames.slice(1).map((name) => {
  const [mean, time, squared, min, max] = quantities[name].spread;
  return [[mean, Number.NaN], [time, 0], [squared, 0], [min, Number.NaN], [max, Number.NaN]];
});

/** The additions in the order in which they were made. */
export const additions: readonly Added[] = [electric, ...spreads];

/** The number of columns of each. */
export const columnsOfAddition = 5;

export const laterColumns: Added = additions.flat();
