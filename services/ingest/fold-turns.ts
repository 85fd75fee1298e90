import { foldFresh, isShort } from './fold-stream.js';
import { guardStream } from './guard-stream.js';
import type { StreamMemory } from './stream-memory.js';
import type { StreamState } from './stream-state.js';

/**
 * Folds what was taken: the little that most carriages have at once, then in turn as much of what those have that flood as
 * fits into `most` ms, and always something. The rest waits for the next
 * commit; until then its carriages are told of nothing and no more is taken of them.
 * Returns the streams that were folded.
 */
export function foldInTurn(streams: StreamMemory, most: number): Set<StreamState> {
  const folded = new Set<StreamState>();
  const long: StreamState[] = [];
  const fold = (stream: StreamState, until: number): void => {
    folded.add(stream);
    guardStream(stream, streams, () => {
      foldFresh(stream, streams.fold, until);
    });
    // It is kept, and folded at the next start.
    if (stream.fault !== null) stream.fresh = [];
  };
  for (const stream of streams.active) {
    if (stream.fresh.length === 0) continue;
    if (isShort(stream)) fold(stream, Infinity);
    else long.push(stream);
  }
  streams.behind.clear();
  const { steady } = streams.fold;
  const until = steady() / 1e3 + most;
  for (const stream of long) {
    if (stream === long[0] || steady() / 1e3 < until) {
      fold(stream, until);
      // The others come before it the next time.
      streams.active.delete(stream);
      streams.active.add(stream);
    }
    if (stream.fresh.length > 0) streams.behind.add(`weld/${stream.site}/${stream.carriage}`);
  }
  return folded;
}
