import { needsRefold } from '../fold/fold-state.js';
import { mayRefold } from './refold-pace.js';
import { foldAgain } from './fold-again.js';
import type { StreamAccess } from './stream-access.js';
import type { Carriage } from '../fold/carriage.js';

/** The largest share of the time for folding again, over all carriages: less while messages wait, so that the service can keep up with them. */
const refoldShare = { pressed: 1 / 5, free: 1 / 2 };

/**
 * Folds again what late items or assignments require, as far as its share of the time allows at `now`, ms of the steady clock. Carriages that have
 * waited longest relative to their cost come first, so that a carriage with one late item goes before one that sends only late items. Folds from the
 * store, which must already contain everything that is kept. Returns the carriages that were folded again.
 */
export function refoldInTurn(streams: StreamAccess, now: number): Set<Carriage> {
  const { refolds, toRefold } = streams;
  const done = new Set<Carriage>();
  const waitedFor = ({ fold: { refoldedAt, refoldCost } }: Carriage): number => (refoldedAt === null ? Number.MAX_VALUE : (now - refoldedAt) / Math.max(refoldCost, 1));
  const waiting = [...toRefold].sort((a, b) => waitedFor(b) - waitedFor(a));
  for (const carriage of waiting) {
    if (!mayRefold(carriage.fold, streams, now)) break;
    const inTurn = carriage.fold.refoldedAt !== null;
    foldAgain(carriage, streams);
    if (!needsRefold(carriage.fold)) toRefold.delete(carriage);
    done.add(carriage);
    if (inTurn) refolds.freeAt = Math.max(refolds.freeAt, now) + carriage.fold.refoldCost / refoldShare[refolds.pressed ? 'pressed' : 'free'];
  }
  return done;
}

/** Whether anything may be folded again at `now`, ms of the steady clock. */
export function isRefoldDue(streams: StreamAccess, now: number): boolean {
  for (const { fold } of streams.toRefold) if (mayRefold(fold, streams, now)) return true;
  return false;
}

/**
 * Folds again everything that waits, commit by commit and regardless of its share, until `until`, ms of the steady clock, or until a commit fails.
 */
export function foldWaiting(streams: StreamAccess, until: number, commit: () => boolean): void {
  while (streams.toRefold.size > 0 && streams.fold.steady() / 1e3 < until) {
    streams.refolds.freeAt = 0;
    if (!commit()) return;
  }
}
