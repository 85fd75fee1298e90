import type { TraceReader, TraceStore } from '../../shared/traces/trace-store.js';

/** One engine under test, empty. */
export interface TraceEngine {
  readonly store: TraceStore;
  readonly reader: TraceReader;
  /** Runs the work as one commit, where the engine has such a thing. */
  commit(work: () => void): void;
  dispose(): void;
}
