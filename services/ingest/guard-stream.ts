import { damageMessage } from '../../shared/records/damage.js';
import { isStorageError } from './storage-error.js';
import type { StreamMemory } from './stream-memory.js';
import type { StreamState } from './stream-state.js';

/** An error in one carriage's computation must not keep anything from being stored. */
export function guardStream(stream: StreamState, streams: Pick<StreamMemory, 'log' | 'fold'>, work: () => void): void {
  if (stream.fault !== null) return;
  try {
    work();
  } catch (thrown) {
    if (isStorageError(thrown)) throw thrown;
    stream.fault = thrown instanceof Error ? (thrown.stack ?? thrown.message) : String(thrown);
    const damage = damageMessage(thrown);
    if (damage === null) streams.log('error', `${stream.site}/${stream.carriage}: ${standingStill}: ${stream.fault}`);
    else tellFault(stream.site, stream.carriage, damage, streams);
  }
}

const standingStill = 'items are kept, but no figures are computed until the next start';

/** Tells everybody that what is stored of a carriage is other than it was written. */
export function tellFault(site: string, carriage: string, what: string, { log, fold }: Pick<StreamMemory, 'log' | 'fold'>): void {
  const words = `${site}/${carriage}: ${standingStill}: ${what}`;
  if (fold.tellDamage === undefined) log('error', words);
  else fold.tellDamage(words);
}
