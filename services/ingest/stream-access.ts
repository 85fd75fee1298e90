import { flushStream } from './flush-stream.js';
import type { FoldDeps } from './fold-deps.js';
import { foldFresh, refold } from './fold-stream.js';
import { loadStream } from './stream-load.js';
import type { StreamState } from './stream-state.js';

/** The carriages and logs that are in memory. */
export interface StreamAccess {
  readonly fold: FoldDeps;
  readonly log: (level: 'info' | 'warn' | 'error', text: string) => void;
  readonly all: ReadonlyMap<string, StreamState>;
  /** The stream of that name, read from the store where it is not in memory yet, and made where it is new. */
  stream(site: string, carriage: string, stream: string): StreamState;
  /** Reads every live carriage. */
  loadLive(): void;
  forget(stream: StreamState): void;
  /** After a failed transaction memory may be ahead of the store. */
  forgetAll(): void;
  /** Folds what was taken and writes the records, now. */
  finish(stream: StreamState): void;
}

export function streamAccess(fold: FoldDeps, log: StreamAccess['log']): StreamAccess {
  const { statements } = fold;
  const streams = new Map<string, StreamState>();
  const keyOf = (site: string, carriage: string, stream: string): string => `${site}/${carriage}/${stream}`;
  const access: StreamAccess = {
    fold,
    log,
    all: streams,
    stream: (site, carriage, stream) => {
      const key = keyOf(site, carriage, stream);
      let state = streams.get(key);
      if (state === undefined) {
        state = loadStream(statements, site, carriage, stream);
        if (state.runs.size > 0 || statements.keptFrom.get(state.id, 0) !== undefined) state.dirtyFrom = 'latest';
        streams.set(key, state);
      }
      return state;
    },
    loadLive: () => {
      for (const row of statements.liveStreams.all()) access.stream(row.site, row.carriage, row.stream);
    },
    forget: ({ site, carriage, stream }) => streams.delete(keyOf(site, carriage, stream)),
    forgetAll: () => {
      streams.clear();
    },
    finish: (state) => {
      foldFresh(state, fold);
      refold(state, fold);
      flushStream(state, fold);
    },
  };
  return access;
}
