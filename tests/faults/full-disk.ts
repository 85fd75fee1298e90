import { spawnSync } from 'node:child_process';
import { closeSync, openSync, statfsSync, unlinkSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { scratchDir } from './service-process.js';

/** A file system of its own and of a few MiB, that can be filled and freed. */
export interface SmallDisk {
  readonly path: string;
  fill(): void;
  free(): void;
  /** MiB that are left. */
  left(): number;
  remove(): void;
}

/** Why no small file system can be had here, or null where it can. */
export function noSmallDisk(): string | null {
  if (process.platform !== 'linux') return 'tmpfs is Linux only';
  if (process.getuid?.() !== 0) return 'only root may mount a tmpfs';
  const dir = scratchDir();
  const tried = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=1m', 'tmpfs', dir.path]);
  if (tried.status === 0) spawnSync('umount', [dir.path]);
  dir.remove();
  return tried.status === 0 ? null : `mount -t tmpfs: ${tried.stderr.toString('utf8').trim()}`;
}

export function smallDisk(mebibytes: number): SmallDisk {
  const dir = scratchDir();
  const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${mebibytes}m`, 'tmpfs', dir.path]);
  if (mounted.status !== 0) throw new Error(`mount: ${mounted.stderr.toString('utf8')}`);
  const ballast = join(dir.path, 'ballast');
  return {
    path: dir.path,
    fill: () => {
      const file = openSync(ballast, 'a');
      for (const size of [1024 * 1024, 4096]) {
        try {
          for (;;) if (writeSync(file, Buffer.alloc(size)) < size) break;
        } catch (error) {
          if (!(error instanceof Error && 'code' in error && error.code === 'ENOSPC')) throw error;
        }
      }
      closeSync(file);
    },
    free: () => {
      unlinkSync(ballast);
    },
    left: () => {
      const { bavail, bsize } = statfsSync(dir.path);
      return (bavail * bsize) / 1024 / 1024;
    },
    remove: () => {
      spawnSync('umount', ['-l', dir.path]);
      dir.remove();
    },
  };
}
