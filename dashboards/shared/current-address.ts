import { signal } from '@preact/signals';
import { readAddress, type Address } from './address.js';

/** Where the browser is. */
export const address = signal<Address>(readAddress(window.location.hash));

window.addEventListener('hashchange', () => { address.value = readAddress(window.location.hash); });

/** Goes to an address as `writeAddress` writes it; Back leads to where one was. */
export function goTo(hash: string): void {
  if (hash !== window.location.hash) window.location.hash = hash;
}
