import { guardStream, tellFault } from './guard-stream.js';
import { publishSettled, type PublishRetained } from './run-due-work.js';
import { dropOldOfSome, unloadQuiet } from './quiet-streams.js';
import { forgetUnused, type GoneCarriage } from './retire-carriage.js';
import type { StreamAccess } from './stream-access.js';
import { gatherUnused } from './gather-carriage.js';
import { loadStream } from './stream-load.js';
import { keyOf } from './stream-memory.js';
import { streamChange } from '../fold/carriage.js';

/** How often old items are dropped, quiet streams unloaded, refusals trimmed and unused carriages looked for, µs. */
const tidyEvery = 1_000_000;
const trimEvery = 15_000_000;
const unusedEvery = 3_600_000_000;
/** How long reading the carriages may delay the start, and each tick after it, µs. */
const loadAtStart = 2_000_000;
const loadInTick = 20_000;
/** How many refused entries are kept: the newest. */
const refusedKept = 100_000;

/** Maintenance that has to be done now and then, whether or not messages come. All of it runs within a commit. */
export interface Housekeeping {
  /** Reads the carriages that may have something in progress; if there are many, the rest follow tick by tick. */
  readonly reload: () => void;
  isDue(): boolean;
  /** Does a part of what is due. Returns the carriages that were removed. */
  work(): GoneCarriage[];
}

export function keepHouse(streams: StreamAccess, publish: PublishRetained): Housekeeping {
  const { fold } = streams;
  let tidiedAt = fold.steady();
  let trimmedAt = tidiedAt;
  let unusedAt = tidiedAt;
  let loading = false;
  /** Carriages that were settled at the start: our own broker knows nothing of them yet. */
  let toTell: { readonly site: string; readonly carriage: string }[] | null = null;

  function tellSettled(settled: { readonly site: string; readonly carriage: string }[]): void {
    const until = fold.steady() + loadInTick;
    while (settled.length > 0 && fold.steady() < until) {
      const next = settled.pop();
      if (next === undefined || streams.all.has(keyOf(next.site, next.carriage, ''))) continue;
      const { site, carriage } = next;
      const stream = loadStream(streams.statements, site, carriage, '', fold, (what) => { tellFault(site, carriage, what, streams); });
      // A carriage with a fault is read, and reported, at each start.
      if (stream.fold.fault !== null && stream.outbox.settled === true) fold.changes.streams.push(streamChange(stream, false));
      guardStream(stream, streams, () => { publishSettled(stream, streams, publish); });
    }
  }

  return {
    reload: () => {
      toTell ??= streams.statements.liveStreams.all().filter(({ settled }) => settled === 1).reverse();
      streams.loadLive();
      loading = streams.loadMore(fold.steady() + loadAtStart);
    },
    isDue: () => loading || (toTell?.length ?? 0) > 0 || fold.steady() - tidiedAt >= tidyEvery,
    work() {
      if (loading) loading = streams.loadMore(fold.steady() + loadInTick);
      else if (toTell !== null) tellSettled(toTell);
      const now = fold.steady();
      if (now - tidiedAt < tidyEvery) return [];
      tidiedAt = now;
      dropOldOfSome(streams);
      unloadQuiet(streams);
      if (now - trimmedAt >= trimEvery) {
        trimmedAt = now;
        fold.changes.drops.push({ refused: refusedKept });
      }
      if (now - unusedAt < unusedEvery) return [];
      unusedAt = now;
      return forgetUnused(gatherUnused(streams), streams);
    },
  };
}
