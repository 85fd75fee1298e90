import { refold } from './fold-stream.js';
import { guardStream } from './guard-stream.js';
import { writeKept } from './keep-messages.js';
import type { StreamAccess } from './stream-access.js';
import type { StreamState } from './stream-state.js';

/** Folding again may take this part of the time at most, of all carriages together: less while messages wait, so that it can not keep pace from being held. */
const refoldShare = { pressed: 1 / 5, free: 1 / 2 };
/** Short ones need not wait for each other: they may be so far ahead of their share, ms. */
const aheadBy = 50;

/** When folding again is within its share of the time, ms by the steady clock. */
export interface RefoldPace {
  freeAt: number;
  /** More messages wait than the last commit took. */
  pressed: boolean;
}

const needsRefold = ({ dirtyFrom, fault }: StreamState): boolean => dirtyFrom !== null && fault === null;

/** Whether the stream may be folded again now. One that was just read from the store is let through always, as nothing is known of its carriage before. */
export function mayRefold(stream: StreamState, { refolds }: StreamAccess, now: number): boolean {
  return stream.refoldedAt === null || refolds.freeAt - now <= aheadBy;
}

/**
 * Folds again what late items or assignments ask for, as far as the share of the time allows at `now`, ms by the steady clock.
 * First come those that have waited longest by the measure of what they cost, so that a carriage with one late item goes
 * before one that sends nothing else. Returns the streams that were folded again.
 */
export function refoldInTurn(streams: StreamAccess, now: number): Set<StreamState> {
  const { refolds, fold } = streams;
  const done = new Set<StreamState>();
  const waitedFor = (stream: StreamState): number => (stream.refoldedAt === null ? Number.MAX_VALUE : (now - stream.refoldedAt) / Math.max(stream.refoldCost, 1));
  const waiting = [...streams.active].filter(needsRefold).sort((a, b) => waitedFor(b) - waitedFor(a));
  for (const stream of waiting) {
    if (!mayRefold(stream, streams, now)) break;
    const inTurn = stream.refoldedAt !== null;
    // It is folded from what is kept in the store.
    writeKept(stream, fold.statements);
    guardStream(stream, streams, () => {
      refold(stream, fold);
    });
    done.add(stream);
    if (inTurn) refolds.freeAt = Math.max(refolds.freeAt, now) + stream.refoldCost / refoldShare[refolds.pressed ? 'pressed' : 'free'];
  }
  return done;
}

/** Folds again all that waits, commit by commit and whatever its share of the time, until `until`, ms of `performance.now()`, or until a commit fails. */
export function foldWaiting(streams: StreamAccess, until: number, commit: () => boolean): void {
  while ([...streams.active].some(needsRefold) && performance.now() < until) {
    streams.refolds.freeAt = 0;
    if (!commit()) return;
  }
}
