import { damageMessage } from '../../../shared/records/damage.js';
import { isStorageError } from '../storage-error.js';
import type { StreamMemory } from './stream-memory.js';
import type { Carriage } from '../fold/carriage.js';

/** Does the work so that an error in one carriage's computation keeps nothing from being stored. */
export function guardStream(carriage: Carriage, streams: Pick<StreamMemory, 'log' | 'fold'>, work: () => void): void {
  const { fold } = carriage;
  if (fold.fault !== null) return;
  try {
    work();
  } catch (thrown) {
    if (isStorageError(thrown)) throw thrown;
    fold.fault = thrown instanceof Error ? (thrown.stack ?? thrown.message) : String(thrown);
    const damage = damageMessage(thrown);
    if (damage === null) streams.log('error', `${carriage.site}/${carriage.carriage}: ${standingStill}: ${fold.fault}`);
    else tellFault(carriage.site, carriage.carriage, damage, streams);
  }
}

const standingStill = 'items are kept, but no figures are computed until the next start';

/** Reports that what is stored of a carriage differs from what was written. */
export function tellFault(site: string, carriage: string, what: string, { log, fold }: Pick<StreamMemory, 'log' | 'fold'>): void {
  const words = `${site}/${carriage}: ${standingStill}: ${what}`;
  if (fold.tellDamage === undefined) log('error', words);
  else fold.tellDamage(words);
}
