import { afterEach, beforeEach, expect } from 'vitest';
import { openStreams, type OpenStreams } from './open-streams.js';

/** Each test of the file has a store of its own, with checkpoints every 5 s, which is handed to `put`; none may have told a problem at its end. */
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
