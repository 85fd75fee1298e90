import { preloadedLibrary } from './preloaded-library.js';

/**
 * Builds the layer that makes every sync take `ms` longer, as a slow disk does, in `folder`. Returns how to start the service. It can be built wherever
 * files can be made to fail.
 */
export function slowSyncs(folder: string, ms: number): { readonly LD_PRELOAD: string; readonly SLOW_SYNC_MS: string } {
  return { LD_PRELOAD: preloadedLibrary(folder, 'slow-sync', '-ldl'), SLOW_SYNC_MS: String(ms) };
}
