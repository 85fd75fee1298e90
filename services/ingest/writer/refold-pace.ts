import type { CarriageFold } from '../fold/fold-state.js';

/** The time from which folding again is within its share, ms of the steady clock. */
export interface RefoldPace {
  freeAt: number;
  /** More messages wait than the last commit handled. */
  pressed: boolean;
}

/** Folding again may run ahead of its share by this much, so that short ones need not wait for each other, ms. */
const aheadBy = 50;

/** Whether the stream may be folded again now. A stream that was just read from the store always may, as nothing is known of its carriage before. */
export function mayRefold({ refoldedAt }: Pick<CarriageFold, 'refoldedAt'>, { refolds }: { readonly refolds: RefoldPace }, now: number): boolean {
  return refoldedAt === null || refolds.freeAt - now <= aheadBy;
}
