import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** libfaketime where Debian puts it; the variant for programs of many threads. */
const library = ['x86_64', 'aarch64'].map((machine) => `/usr/lib/${machine}-linux-gnu/faketime/libfaketimeMT.so.1`).find((file) => existsSync(file));

/** Why the clock of a process cannot be set here; null if it can. */
export function noFakeTime(): string | null {
  return library === undefined ? 'libfaketime is not installed' : null;
}

export interface FakeTime {
  /** Environment of a process whose wall clock is set here; its steady clock stays right. */
  readonly env: Readonly<Record<string, string>>;
  /** Sets the clock that many seconds away from the true time. */
  set(seconds: number): void;
  remove(): void;
}

export function fakeTime(): FakeTime {
  const folder = mkdtempSync(join(tmpdir(), 'seamwarden-time-'));
  const file = join(folder, 'time');
  const set = (seconds: number): void => {
    writeFileSync(file, `${seconds < 0 ? '' : '+'}${seconds}\n`);
  };
  set(0);
  return {
    env: { LD_PRELOAD: library ?? '', FAKETIME_TIMESTAMP_FILE: file, FAKETIME_NO_CACHE: '1', DONT_FAKE_MONOTONIC: '1', FAKETIME_DONT_FAKE_MONOTONIC: '1' },
    set,
    remove: () => {
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
