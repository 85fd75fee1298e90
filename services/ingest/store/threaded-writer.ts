import { once } from 'node:events';
import { MessageChannel, receiveMessageOnPort, Worker } from 'node:worker_threads';
import type { ChangeSet } from '../../../shared/records/change-set.js';
import type { StoreWriter, Writing } from './store-writer.js';
import { decidedAt, endedAt, type FromWriter, type ToWriter, type WriterStart } from './writer-protocol.js';

/** A thread that waits for the other one checks this often whether it still runs, ms. */
const lookEveryMs = 1_000;

interface Begun {
  readonly number: number;
  failure: Error | null | undefined;
  synced: number | null;
  readonly over: () => void;
}

/** Writes in a separate thread. The file must already be a store. */
export async function threadedWriter(databaseFile: string): Promise<StoreWriter> {
  const { port1: port, port2 } = new MessageChannel();
  const state = new Int32Array(new SharedArrayBuffer(2 * Int32Array.BYTES_PER_ELEMENT));
  const thread = new Worker(new URL('./writer-thread.js', import.meta.url), {
    workerData: { databaseFile, port: port2, state } satisfies WriterStart,
    transferList: [port2],
    // A change set is soon written and forgotten.
    resourceLimits: { maxYoungGenerationSizeMb: 6 },
  });
  await once(thread, 'online');
  let number = 0;
  let begun: Begun | null = null;

  function decide(own: Begun, { failure, synced }: FromWriter): void {
    own.synced = synced;
    own.failure = failure === null ? null : Object.assign(new Error(failure.message), failure.damaged ? { damaged: true as const } : {}, { code: failure.code, errcode: failure.errcode, stack: failure.stack });
  }

  function waitFor(own: Begun): Error | null {
    while (own.failure === undefined) {
      const decided = Atomics.load(state, decidedAt);
      const got = decided < own.number ? undefined : (receiveMessageOnPort(port) as { readonly message: FromWriter } | undefined);
      if (got !== undefined) decide(own, got.message);
      else if (Atomics.load(state, endedAt) !== 0) own.failure = new Error('the thread that writes has ended');
      else Atomics.wait(state, decidedAt, decided, lookEveryMs);
    }
    return own.failure;
  }

  port.on('message', (message: FromWriter) => {
    if (begun === null || begun.failure !== undefined) return;
    decide(begun, message);
    begun.over();
  });

  return {
    begin: (changes: ChangeSet, over): Writing => {
      number += 1;
      const own: Begun = { number, failure: undefined, synced: null, over };
      begun = own;
      port.postMessage(changes satisfies ToWriter);
      return { isOver: () => own.failure !== undefined, outcome: () => waitFor(own), synced: () => own.synced };
    },
    settle: () => {
      if (begun !== null) waitFor(begun);
    },
    close: async () => {
      if (Atomics.load(state, endedAt) !== 0) return;
      const ended = once(thread, 'exit');
      port.postMessage(null satisfies ToWriter);
      await ended;
    },
  };
}
