import { quantities, spreadNames, type SpreadColumn } from '../weld/quantities.js';

/*
 * Columns of the quantities that came after the first formats: five for each, in the order in which the table has them, so that a further one stands
 * behind those before it. They are stored as they are; what is known of how the first columns hang together stays theirs.
 */

/** The columns of one quantity, with what the row of an earlier format gives for them: as where the quantity is not sent. */
type Added = readonly (readonly [column: SpreadColumn, before: number])[];

/** Wire feed speed, the first of the table, was there from the beginning. */
export const laterSpreads: readonly Added[] = spreadNames.slice(1).map((name) => {
  const [mean, time, squared, min, max] = quantities[name].spread;
  return [[mean, Number.NaN], [time, 0], [squared, 0], [min, Number.NaN], [max, Number.NaN]];
});

/** Columns of each. */
export const columnsOfSpread = 5;

export const laterColumns: Added = laterSpreads.flat();
