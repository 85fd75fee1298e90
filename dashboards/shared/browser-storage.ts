type Storage = 'localStorage' | 'sessionStorage';

/** What the browser stores under a name. A browser may deny its storage; then nothing is stored. */
export function readStored(name: string, storage: Storage = 'localStorage'): string | null {
  try {
    return globalThis[storage].getItem(name);
  } catch {
    return null;
  }
}

/** Stores a text under a name, or removes it. Where the browser denies this, the text lasts only as long as the page. */
export function writeStored(name: string, text: string | null, storage: Storage = 'localStorage'): void {
  try {
    if (text === null) globalThis[storage].removeItem(name);
    else globalThis[storage].setItem(name, text);
  } catch {
    // The page goes on without it.
  }
}
