import { readFileSync } from 'node:fs';

/** The version of the program from package.json, which is found from the built files as well as from the sources. */
export const version = versionOf(['../package.json', '../../package.json']);

function versionOf(places: readonly string[]): string {
  for (const place of places) {
    try {
      const { name, version: found } = JSON.parse(readFileSync(new URL(place, import.meta.url), 'utf8')) as { name?: string; version?: string };
      if (name === 'seamwarden' && found !== undefined) return found;
    } catch {
      // Not here; the next place is tried.
    }
  }
  return 'unknown';
}
