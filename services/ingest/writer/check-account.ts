import { damageError, fileOf } from '../../../shared/sqlite/damage.js';
import { addTallies, emptyTally, sameTally, tallyOf, type ItemTally } from '../../../shared/weld/items/item-tally.js';
import type { OrderedItem } from '../../../shared/weld/items/order.js';
import type { Statements } from '../store/statements.js';
import type { Carriage } from '../fold/carriage.js';

/**
 * Throws an error of damage unless the items in a fold, the kept items `behind` it and the late ones add up to all that counted. If SQLite no longer
 * finds a pack or a checkpoint, each remaining row is still as it was written, but folding again would give other figures.
 */
export function checkAccount({ id, site, carriage, intake }: Carriage, held: ItemTally, behind: readonly OrderedItem[], statements: Statements): void {
  let counted = emptyTally();
  for (const { taken } of intake.boots.values()) if (taken !== null) counted = addTallies(counted, taken);
  const late = statements.lateOf.all(id).map(({ item }) => JSON.parse(item) as OrderedItem);
  const found = addTallies(held, addTallies(tallyOf(behind), tallyOf(late)));
  if (sameTally(counted, found)) return;
  throw damageError(fileOf(statements.db), `what is kept of ${site}/${carriage}`, new Error(`${counted.items} items counted, and ${found.items} are there`));
}
