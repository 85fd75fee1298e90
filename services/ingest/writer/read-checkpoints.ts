import { damageError, fileOf } from '../../../shared/sqlite/damage.js';
import type { FoldState } from '../../../shared/weld/run/carriage-fold.js';
import { dropCheckpoints, replacePlace } from '../fold/checkpoints.js';
import { checkedFold, checkpointSum, foldFromFloor, writeFold, type CheckpointPlace } from '../fold/fold-checkpoint.js';
import { foldShape } from '../fold/fold-shape.js';
import { countWhatIsStored } from './count-stored.js';
import type { FoldDeps } from '../fold/fold-deps.js';
import type { Statements } from '../store/statements.js';
import type { Carriage } from '../fold/carriage.js';
import type { PlacedCheckpoint } from '../fold/fold-state.js';
import { entryOf } from '../fold/run-book.js';

/** Reads the places of a stream's checkpoints, and upgrades what an earlier version left. */
export function openCheckpoints(carriage: Carriage, statements: Statements, deps: FoldDeps): void {
  const { fold } = carriage;
  const unreadable = new Set<number>();
  fold.checkpoints = statements.checkpoints.all(carriage.id).map(({ id, position, kept_from: keptFrom, created }) => {
    const place = readPlace(position);
    // Only the floor records what was dropped: without it, the kept items would be mistaken for everything.
    if (place === null && position.includes('"floor"')) throw damageError(fileOf(statements.db), `how far the items of ${carriage.site}/${carriage.carriage} were let go of`, new Error('its place is no JSON'));
    if (place === null) unreadable.add(id);
    return { number: id, place: place ?? nowhere, keptFrom, created };
  });
  dropCheckpoints(fold, ({ number }) => unreadable.has(number), deps);
  const stored = countWhatIsStored(carriage, fold.checkpoints, statements);
  for (const checkpoint of fold.checkpoints) {
    const { number, place, keptFrom } = checkpoint;
    const isFloor = place.floor === true || number === stored?.floor;
    if (place.shape !== foldShape() && isFloor) {
      const held = stored?.held ?? place.held;
      const saved = writeFold(foldFromFloor(place, held));
      replacePlace(fold, checkpoint, { ...place, shape: foldShape(), held, floor: true, sum: checkpointSum(saved, keptFrom) }, saved, deps);
    }
    if (isFloor) fold.floor = place;
  }
  dropCheckpoints(fold, ({ place }) => place.shape !== foldShape(), deps);
  fold.checkpoint = fold.checkpoints.at(-1)?.place ?? null;
}

const nowhere: CheckpointPlace = { rank: 0, key: 0, arc: 0, arrival: 0, ordinal: 0, held: { items: 0, first: 0, second: 0 } };

function readPlace(text: string): CheckpointPlace | null {
  try {
    return JSON.parse(text) as CheckpointPlace;
  } catch {
    return null;
  }
}

/** Where folding again begins, and what was found while looking for it. */
export interface FoundBeginning {
  readonly state: FoldState | null;
  readonly checkpoint: PlacedCheckpoint | null;
  readonly keptFrom: number;
  /** Numbers of the checkpoints after it, none of which can be used for folding. */
  readonly unusable: ReadonlySet<number>;
}

/**
 * Finds where folding again begins: at the newest checkpoint, or at the very start. A checkpoint that differs from what was written is dropped, and
 * its items are folded again. The items of a floor were dropped, so for a damaged floor only what is stored beside its state is used.
 */
export function findBeginning(carriage: Carriage, statements: Statements, { tellDamage }: Pick<FoldDeps, 'tellDamage'>): FoundBeginning {
  const unusable = new Set<number>();
  for (const checkpoint of carriage.fold.checkpoints.toReversed()) {
    const { number, place, keptFrom } = checkpoint;
    const saved = statements.checkpointState.get(number);
    const state = saved === undefined ? null : checkedFold(saved.state, place, keptFrom);
    // Earlier versions wrote a checkpoint with a run in it before the run's record: folding from there would lose the run.
    if (state !== null && (place.floor === true || !lacksRecord(carriage, state))) return { state, checkpoint, keptFrom, unusable };
    if (state === null) {
      tellDamage?.(`a checkpoint of ${carriage.site}/${carriage.carriage} is other than it was written: ${place.floor === true ? 'what is known of the time before it may be wrong' : 'it is dropped, and its items are folded again'}`);
      if (place.floor === true) return { state: foldFromFloor(place, place.held), checkpoint, keptFrom: 0, unusable };
    }
    unusable.add(number);
  }
  return { state: null, checkpoint: null, keptFrom: 0, unusable };
}

/** Whether the run in a checkpoint has no record, as far as is known of a stream that was just read from the store. */
function lacksRecord({ fold, runs }: Carriage, { merge }: FoldState): boolean {
  const held = merge.run ?? merge.resumable;
  return fold.refoldedAt === null && held !== null && entryOf(runs, held) === undefined;
}
