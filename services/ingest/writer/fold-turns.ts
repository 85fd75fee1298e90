import { topicOf, type Carriage } from '../fold/carriage.js';
import { foldFresh, isShort } from '../fold/fold-stream.js';
import { guardStream } from './guard-stream.js';
import type { StreamMemory } from './stream-memory.js';

/**
 * Folds what came: everything of the carriages with little at once, then, in turn, as much of the flooding ones as fits into `most` ms, and always at
 * least something. The rest waits for the next commit; until then nothing is published for these carriages and no more messages of theirs are
 * handled. Returns the folded carriages.
 */
export function foldInTurn(streams: StreamMemory, most: number): Set<Carriage> {
  const { behind, woken } = streams;
  const { steady } = streams.fold;
  const folded = new Set<Carriage>();
  const fold = (carriage: Carriage, until: number): void => {
    folded.add(carriage);
    woken.add(carriage);
    guardStream(carriage, streams, () => { foldFresh(carriage, streams.fold, until); });
    // The items are kept, and folded at the next start.
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
    // The other carriages come first next time.
    behind.delete(topic);
    if (carriage.fold.fresh.length > 0) behind.set(topic, carriage);
  }
  return folded;
}
