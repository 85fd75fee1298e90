import { topicOf, type Carriage } from '../fold/carriage.js';
import { foldFresh, isShort } from '../fold/fold-stream.js';
import { guardStream } from './guard-stream.js';
import type { StreamMemory } from './stream-memory.js';

/**
 * Folds what was taken: the little that most carriages have at once, then in turn as much of what those have that flood as
 * fits into `most` ms, and always something. The rest waits for the next
 * commit; until then its carriages are told of nothing and no more is taken of them.
 * Returns the carriages that were folded.
 */
export function foldInTurn(streams: StreamMemory, most: number): Set<Carriage> {
  const { behind, woken } = streams;
  const { steady } = streams.fold;
  const folded = new Set<Carriage>();
  const fold = (carriage: Carriage, until: number): void => {
    folded.add(carriage);
    woken.add(carriage);
    guardStream(carriage, streams, () => {
      foldFresh(carriage, streams.fold, until);
    });
    // It is kept, and folded at the next start.
    if (carriage.fold.fault !== null) carriage.fold.fresh = [];
  };
  for (const carriage of woken) if (carriage.fold.fresh.length > 0) behind.set(topicOf(carriage), carriage);
  for (const [topic, carriage] of behind) {
    if (!isShort(carriage.fold)) continue;
    behind.delete(topic);
    if (carriage.fold.fresh.length > 0) fold(carriage, Infinity);
  }
  const until = steady() / 1e3 + most;
  let isFirst = true;
  for (const [topic, carriage] of [...behind]) {
    if (!isFirst && steady() / 1e3 >= until) break;
    isFirst = false;
    fold(carriage, until);
    // The others come before it the next time.
    behind.delete(topic);
    if (carriage.fold.fresh.length > 0) behind.set(topic, carriage);
  }
  return folded;
}
