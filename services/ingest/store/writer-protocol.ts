import type { MessagePort } from 'node:worker_threads';
import type { ChangeSet } from '../../../shared/records/change-set.js';

/** What the thread that writes is started with. */
export interface WriterStart {
  readonly databaseFile: string;
  readonly port: MessagePort;
  /** How many change sets are decided, and whether the thread has ended: what a thread that waits looks at. */
  readonly state: Int32Array;
}

export const decidedAt = 0;
export const endedAt = 1;

/** Null asks it to close the store and end. */
export type ToWriter = ChangeSet | null;

/** What became of a change set: an error loses what is not standard as it crosses the border. */
export type FromWriter = { readonly failure: null | { readonly message: string; readonly stack: string | undefined; readonly code: unknown; readonly errcode: unknown; readonly damaged: boolean } };
