import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Compiles `name`.c of this folder into a library in `folder` that is loaded in front of the C library (LD_PRELOAD, ld.so(8)). Returns its file. */
export function preloadedLibrary(folder: string, name: string, linked: string): string {
  const library = join(folder, `${name}.so`);
  const built = spawnSync('gcc', ['-shared', '-fPIC', '-O1', '-o', library, fileURLToPath(new URL(`${name}.c`, import.meta.url)), linked]);
  if (built.status !== 0) throw new Error(`gcc: ${built.stderr.toString('utf8')}`);
  return library;
}
