import { afterEach, beforeEach, expect } from 'vitest';
import { openStreams, type OpenStreams } from './open-streams.js';

/** Each test of the file gets a store of its own by `put`, with checkpoints every 5 s; none may have logged a problem by its end. */
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
