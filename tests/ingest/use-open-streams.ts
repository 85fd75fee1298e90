import { afterEach, beforeEach, expect } from 'vitest';
import { openStreams, type OpenStreams } from './open-streams.js';

/** Gives each test of the file a new store by `put`, with checkpoints every 5 s; no problem may have been logged by its end. */
export function useOpenStreams(put: (own: OpenStreams) => void): void {
  let own: OpenStreams;
  beforeEach(() => {
    own = openStreams(undefined, { checkpointEvery: 5_000_000 });
    put(own);
  });
  afterEach(() => {
    own.close();
    expect(own.problems).toEqual([]);
  });
}
