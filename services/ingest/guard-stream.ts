import { isStorageError } from './storage-error.js';
import type { StreamAccess } from './stream-access.js';
import type { StreamState } from './stream-state.js';

/** An error in one carriage's computation must not keep anything from being stored. */
export function guardStream(stream: StreamState, { log }: Pick<StreamAccess, 'log'>, work: () => void): void {
  if (stream.fault !== null) return;
  try {
    work();
  } catch (thrown) {
    if (isStorageError(thrown)) throw thrown;
    stream.fault = thrown instanceof Error ? (thrown.stack ?? thrown.message) : String(thrown);
    log('error', `${stream.site}/${stream.carriage}: items are kept, but no figures are computed until the next start: ${stream.fault}`);
  }
}
