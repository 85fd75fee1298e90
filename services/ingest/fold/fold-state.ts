import { startFold, type FoldContext, type FoldState } from '../../../shared/weld/run/carriage-fold.js';
import { startLiveFold } from '../../../shared/weld/run/live-fold.js';
import type { OrderedItem, Position } from '../../../shared/weld/items/order.js';
import type { CheckpointPlace } from './fold-checkpoint.js';
import type { HeldMeans } from './live-means.js';
import type { RecentRows } from './newest-rows.js';

/**
 * Checkpoints are shortcuts. At every commit, each stored checkpoint contains all stored items up to its place; one that lacks a new item is removed
 * in the same transaction. Only the floor stays, since the items up to it were dropped; later arrivals from before it do not enter this fold.
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
  /** The fold's view of the assignments, which it reads as they are at the time. */
  readonly context: FoldContext;
  /** Items that came since the last fold. */
  fresh: OrderedItem[];
  /** Everything must be folded again from the newest checkpoint that is left, or from the start. */
  dirtyFrom: 'start' | 'latest' | null;
  /** The stored checkpoints in order of their numbers, and the place of the newest one used for folding. */
  checkpoints: PlacedCheckpoint[];
  checkpoint: Position | null;
  /** Device time of the newest checkpoint, µs. */
  checkpointAt: number | null;
  /** The place up to which items were dropped for good: they survive only in the checkpoint there. */
  floor: (Position & { readonly ordinal: number }) | null;
  /** When old items were last dropped, µs of the steady clock. */
  droppedAt: number;
  /** How long the last folding again took, ms, and when it ended, ms of the steady clock; null if not folded since it was read from the store. */
  refoldCost: number;
  refoldedAt: number | null;
  /** The means of the open run as they were last computed. */
  means: HeldMeans | null;
  /** Set when folding failed: items are still kept, but the figures no longer change. */
  fault: string | null;
}

export function startCarriageFold(context: FoldContext): CarriageFold {
  return {
    context, live: startLiveFold(startFold()), recent: [], fresh: [], dirtyFrom: null, checkpoints: [], checkpoint: null, checkpointAt: null, floor: null,
    droppedAt: 0, refoldCost: 0, refoldedAt: null, means: null, fault: null,
  };
}

/** Restarts the fold from a state, after a checkpoint or at the very start. */
export function restartFold(fold: CarriageFold, state: FoldState, checkpoint: PlacedCheckpoint | null): void {
  fold.live = startLiveFold(state);
  fold.fresh = [];
  fold.recent = [];
  fold.dirtyFrom = null;
  fold.checkpoint = checkpoint?.place ?? null;
  fold.checkpointAt = state.newest;
}

/**
 * Whether everything that came is folded. Until then nothing is published, raised or recorded: a kill could otherwise leave one without the other.
 */
export function isFolded({ dirtyFrom, fresh }: CarriageFold): boolean {
  return dirtyFrom === null && fresh.length === 0;
}

/** Whether the carriage has to be folded again, and can be. */
export function needsRefold({ dirtyFrom, fault }: CarriageFold): boolean {
  return dirtyFrom !== null && fault === null;
}

export function shiftCheckpoints(fold: CarriageFold, step: number): void {
  fold.checkpoints = fold.checkpoints.map((own) => ({ ...own, created: own.created + step }));
}
