import { needsRefold } from '../fold/fold-state.js';
import { mayRefold } from './refold-pace.js';
import { foldAgain } from './fold-again.js';
import type { StreamAccess } from './stream-access.js';
import type { Carriage } from '../fold/carriage.js';

/** Folding again may take this part of the time at most, of all carriages together: less while messages wait, so that it can not keep pace from being held. */
const refoldShare = { pressed: 1 / 5, free: 1 / 2 };

/**
 * Folds again what late items or assignments ask for, as far as the share of the time allows at `now`, ms by the steady clock.
 * First come those that have waited longest by the measure of what they cost, so that a carriage with one late item goes
 * before one that sends nothing else. It is folded from the store, where all that is kept has to be by then. Returns the carriages that were folded again.
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

/** Whether anything is to be folded again that may be at `now`, ms by the steady clock. */
export function isRefoldDue(streams: StreamAccess, now: number): boolean {
  for (const { fold } of streams.toRefold) if (mayRefold(fold, streams, now)) return true;
  return false;
}

/** Folds again all that waits, commit by commit and whatever its share of the time, until `until`, ms by the steady clock, or until a commit fails. */
export function foldWaiting(streams: StreamAccess, until: number, commit: () => boolean): void {
  while (streams.toRefold.size > 0 && streams.fold.steady() / 1e3 < until) {
    streams.refolds.freeAt = 0;
    if (!commit()) return;
  }
}
