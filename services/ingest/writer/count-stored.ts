import { emptyTally, tallyItem, type ItemTally } from '../../../shared/weld/items/item-tally.js';
import { comparePositions, type OrderedItem } from '../../../shared/weld/items/order.js';
import { ranges } from '../../../shared/weld/items/seq-marks.js';
import { decodeKept } from '../fold/decode-kept.js';
import type { CheckpointPlace } from '../fold/fold-checkpoint.js';
import type { Statements } from '../store/statements.js';
import type { Carriage } from '../fold/carriage.js';
import { keptFrom } from '../store/kept-rows.js';

/**
 * Begins the account of a stream with what is stored by an earlier version, which kept none; null if it has one already. `floor` is the number of the
 * checkpoint up to which items were dropped (null if all are kept), `held` are the kept items up to that checkpoint.
 */
export function countWhatIsStored(carriage: Carriage, checkpoints: readonly { readonly number: number; readonly place: CheckpointPlace }[], statements: Statements): { readonly floor: number | null; readonly held: ItemTally } | null {
  const { id, intake } = carriage;
  if ([...intake.boots.values()].every(({ taken }) => taken !== null)) return null;
  const items = keptFrom(carriage, 0, statements).flatMap((message) => decodeKept(intake, message));
  const late = statements.lateOf.all(id).map(({ item }) => JSON.parse(item) as OrderedItem);
  for (const boot of intake.boots.values()) {
    boot.taken = emptyTally();
    boot.ahead = 'byMore';
    for (const item of items) if (item.rank === boot.rank) tallyItem(boot.taken, item);
    for (const item of late) if (item.rank === boot.rank) tallyItem(boot.taken, item);
  }
  const oldest = checkpoints[0];
  const wasLetGo = oldest !== undefined && (stored(carriage, statements) > items.length + late.length || !items.some(({ arrival }) => arrival === oldest.place.arrival));
  const held = emptyTally();
  if (wasLetGo) for (const item of items) if (comparePositions(item, oldest.place) <= 0) tallyItem(held, item);
  return { floor: wasLetGo ? oldest.number : null, held };
}

/** How many items the marks contain. */
function stored({ id, intake }: Carriage, statements: Statements): number {
  let count = statements.timeCount.get(id)?.count ?? 0;
  for (const { marks } of intake.boots.values()) for (const set of Object.values(marks.arcs)) for (const [from, to] of ranges(set)) count += to - from + 1;
  return count;
}
