import type { CarriageFold } from '../fold/fold-state.js';

/** When folding again is within its share of the time, ms by the steady clock. */
export interface RefoldPace {
  freeAt: number;
  /** More messages wait than the last commit took. */
  pressed: boolean;
}

/** Short ones need not wait for each other: they may be so far ahead of their share, ms. */
const aheadBy = 50;

/** Whether the stream may be folded again now. One that was just read from the store is let through always, as nothing is known of its carriage before. */
export function mayRefold({ refoldedAt }: Pick<CarriageFold, 'refoldedAt'>, { refolds }: { readonly refolds: RefoldPace }, now: number): boolean {
  return refoldedAt === null || refolds.freeAt - now <= aheadBy;
}
