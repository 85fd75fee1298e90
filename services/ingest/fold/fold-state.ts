import { startFold, type FoldContext, type FoldState } from '../../../shared/weld/run/carriage-fold.js';
import { startLiveFold } from '../../../shared/weld/run/live-fold.js';
import type { OrderedItem, Position } from '../../../shared/weld/items/order.js';
import type { CheckpointPlace } from './fold-checkpoint.js';
import type { HeldMeans } from './live-means.js';
import type { RecentRows } from './newest-rows.js';

/**
 * Checkpoints are shortcuts. Every one that is stored holds all stored items up to its place, at every commit: where an item comes
 * that one lacks, it goes in the same transaction. Only the floor stays, since the items up to it were let go of; nothing that
 * comes later and belongs before it enters this fold.
 */
export interface PlacedCheckpoint {
  /** Rises with every checkpoint, over all carriages. */
  readonly number: number;
  readonly place: CheckpointPlace;
  readonly keptFrom: number;
  /** µs since 1970. */
  readonly created: number;
}

/** How far the items of a carriage are folded, and from where they can be folded again. */
export interface CarriageFold extends RecentRows {
  /** The fold's view of the assignments; it reads them as they are at the time. */
  readonly context: FoldContext;
  /** Items taken since the last fold. */
  fresh: OrderedItem[];
  /** Everything must be folded again from the newest checkpoint that is left, or from the start. */
  dirtyFrom: 'start' | 'latest' | null;
  /** The stored checkpoints in order of their numbers, and the place of the newest one that is folded from. */
  checkpoints: PlacedCheckpoint[];
  checkpoint: Position | null;
  /** Device time at which the newest one was made, µs. */
  checkpointAt: number | null;
  /** Up to here the items were let go of for good: only the checkpoint that stands here knows of them. */
  floor: (Position & { readonly ordinal: number }) | null;
  /** When old items were let go of last, µs of the steady clock. */
  droppedAt: number;
  /** How long folding again took last, ms, and when it ended, ms by the steady clock; null where it was read from the store and not folded since. */
  refoldCost: number;
  refoldedAt: number | null;
  /** The means of the open run as they were taken last. */
  means: HeldMeans | null;
  /** Set when folding failed: items are still kept, figures stand still. */
  fault: string | null;
}

export function startCarriageFold(context: FoldContext): CarriageFold {
  return {
    context, live: startLiveFold(startFold()), recent: [], fresh: [], dirtyFrom: null, checkpoints: [], checkpoint: null, checkpointAt: null, floor: null,
    droppedAt: 0, refoldCost: 0, refoldedAt: null, means: null, fault: null,
  };
}

/** Everything is folded again from a state on, behind a checkpoint or from the very start. */
export function restartFold(fold: CarriageFold, state: FoldState, checkpoint: PlacedCheckpoint | null): void {
  fold.live = startLiveFold(state);
  fold.fresh = [];
  fold.recent = [];
  fold.dirtyFrom = null;
  fold.checkpoint = checkpoint?.place ?? null;
  fold.checkpointAt = state.newest;
}

/** Whether all that was taken is folded. Nothing is told, raised or recorded of half of it: a kill could then leave one without the other. */
export function isFolded({ dirtyFrom, fresh }: CarriageFold): boolean {
  return dirtyFrom === null && fresh.length === 0;
}

/** Whether it has to be folded again, and can be. */
export function needsRefold({ dirtyFrom, fault }: CarriageFold): boolean {
  return dirtyFrom !== null && fault === null;
}

export function shiftCheckpoints(fold: CarriageFold, step: number): void {
  fold.checkpoints = fold.checkpoints.map((own) => ({ ...own, created: own.created + step }));
}
