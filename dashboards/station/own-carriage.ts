import { readStored, writeStored } from '../shared/browser-storage.js';

const name = 'seamwarden.station';

/** The carriage that was last chosen on this tablet, as `site/carriage`; null if none was chosen or the browser stores nothing. */
export function ownCarriage(): string | null {
  return readStored(name);
}

export function keepOwnCarriage(key: string | null): void {
  writeStored(name, key);
}
