import type { MessagePort } from 'node:worker_threads';
import type { ChangeSet } from '../../../shared/records/change-set.js';

/** What the writing thread is started with. */
export interface WriterStart {
  readonly databaseFile: string;
  readonly port: MessagePort;
  /** How many change sets are decided, and whether the thread has ended; a waiting thread checks both. */
  readonly state: Int32Array;
}

export const decidedAt = 0;
export const endedAt = 1;

/** Null asks the thread to close the store and end. */
export type ToWriter = ChangeSet | null;

/** The outcome of a change set, and how long its sync took, µs: an error loses its non-standard fields when it crosses to another thread. */
export type FromWriter = { readonly synced: number | null; readonly failure: null | { readonly message: string; readonly stack: string | undefined; readonly code: unknown; readonly errcode: unknown; readonly damaged: boolean } };
