import { workerData } from 'node:worker_threads';
import { openWriter } from '../../../shared/records/open-database.js';
import { isDamageError } from '../../../shared/sqlite/damage.js';
import { inlineWriter } from './store-writer.js';
import { decidedAt, endedAt, type FromWriter, type ToWriter, type WriterStart } from './writer-protocol.js';

/** The thread that writes change sets, while the next one is computed. */
const { databaseFile, port, state } = workerData as WriterStart;
process.once('exit', () => {
  Atomics.store(state, endedAt, 1);
  // A waiting thread checks both.
  Atomics.notify(state, decidedAt);
});

const db = openWriter(databaseFile);
const writer = inlineWriter(db);
port.on('message', (changes: ToWriter) => {
  if (changes === null) {
    db.close();
    port.close();
    return;
  }
  const { outcome, synced } = writer.begin(changes, () => undefined);
  const failure = outcome();
  port.postMessage({ synced: synced(), failure: failure === null ? null : told(failure) } satisfies FromWriter);
  Atomics.add(state, decidedAt, 1);
  Atomics.notify(state, decidedAt);
});

function told(error: Error): FromWriter['failure'] {
  const { code, errcode } = error as { readonly code?: unknown; readonly errcode?: unknown };
  return { message: error.message, stack: error.stack, code, errcode, damaged: isDamageError(error) };
}
