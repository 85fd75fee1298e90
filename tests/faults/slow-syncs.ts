import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const source = fileURLToPath(new URL('slow-sync.c', import.meta.url));

/**
 * Builds the layer that makes every sync take `ms` longer, as a slow disk does, in `folder`. Returns how to start the service. It can be built wherever
 * files can be made to fail.
 */
export function slowSyncs(folder: string, ms: number): { readonly LD_PRELOAD: string; readonly SLOW_SYNC_MS: string } {
  const library = join(folder, 'slow-sync.so');
  const built = spawnSync('gcc', ['-shared', '-fPIC', '-O1', '-o', library, source, '-ldl']);
  if (built.status !== 0) throw new Error(`gcc: ${built.stderr.toString('utf8')}`);
  return { LD_PRELOAD: library, SLOW_SYNC_MS: String(ms) };
}
