import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';

/** Why the kernel's page cache cannot be emptied here, or null where it can. */
export function noDropCaches(): string | null {
  if (process.platform !== 'linux') return 'only Linux has a page cache that can be dropped';
  return process.getuid?.() === 0 ? null : 'only root may drop the page cache';
}

/** Makes the kernel drop its cache of files (proc(5), drop_caches). */
export function dropCaches(): void {
  spawnSync('sync');
  writeFileSync('/proc/sys/vm/drop_caches', '1');
}
