import { quantities, spreadNames, type SpreadColumn } from '../weld/quantities.js';

/*
 * Columns of the quantities that were added after the first formats: five for each, in the order of the table, so that a further quantity follows
 * those before it. They are stored as they are; only the first columns are predicted from one another.
 */

/** The columns of one quantity, each with the value that it has in rows of an earlier format, as if the quantity had not been sent. */
type Added = readonly (readonly [column: SpreadColumn, before: number])[];

/** Wire feed speed, the first in the table, was there from the beginning. */
export const laterSpreads: readonly Added[] = spreadNames.slice(1).map((name) => {
  const [mean, time, squared, min, max] = quantities[name].spread;
  return [[mean, Number.NaN], [time, 0], [squared, 0], [min, Number.NaN], [max, Number.NaN]];
});

/** The number of columns for each quantity. */
export const columnsOfSpread = 5;

export const laterColumns: Added = laterSpreads.flat();
