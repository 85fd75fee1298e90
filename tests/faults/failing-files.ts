import { spawnSync } from 'node:child_process';
import { closeSync, openSync, readSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { preloadedLibrary } from './preloaded-library.js';

export interface FailingFiles {
  /** How to start the service. */
  readonly env: Readonly<Record<string, string>>;
  /** From now on `after` calls succeed and the next one fails with `code`; and all that follow, where it lasts. */
  arm(kind: 'write' | 'sync', after: number, code: number, lasting?: boolean): void;
  heal(): void;
  /** Calls that were made to fail so far. */
  failed(): number;
  close(): void;
}

/** Why files cannot be made to fail here, or null where they can. */
export function noFailingFiles(): string | null {
  if (process.platform !== 'linux') return 'only Linux loads a library in front of another by LD_PRELOAD';
  return spawnSync('gcc', ['--version']).status === 0 ? null : 'gcc is not installed';
}

/** Compiles the failing file layer into `folder` and gives the switch for it; it acts on files below `dataDir`. */
export function failingFiles(folder: string, dataDir: string): FailingFiles {
  const library = preloadedLibrary(folder, 'failing-files', '-ldl');
  const control = join(folder, 'control');
  const words = Int32Array.of(0, -1, 0, 0, 0);
  writeFileSync(control, new Uint8Array(words.buffer));
  const file = openSync(control, 'r+');
  const set = (position: number, ...values: number[]): void => {
    writeSync(file, new Uint8Array(Int32Array.from(values).buffer), 0, values.length * 4, position * 4);
  };
  return {
    env: { LD_PRELOAD: library, FAILING_CONTROL: control, FAILING_DIR: dataDir },
    arm: (kind, after, code, lasting = false) => {
      // `left` last: with it the layer is armed.
      set(2, lasting ? 1 : 0, code);
      set(0, kind === 'write' ? 1 : 2, after);
    },
    heal: () => {
      set(1, -1, 0);
    },
    failed: () => {
      const bytes = Buffer.alloc(4);
      readSync(file, bytes, 0, 4, 16);
      return bytes.readInt32LE(0);
    },
    close: () => {
      closeSync(file);
    },
  };
}
