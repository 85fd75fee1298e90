import { spawnSync } from 'node:child_process';
import { copyFileSync, existsSync, mkdirSync, realpathSync, symlinkSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';

const busybox = '/bin/busybox';

/** What is missing for images that are made here, or null. */
export function whyNoImages(): string | null {
  return existsSync(busybox) ? null : `no ${busybox} (Debian package busybox-static)`;
}

export interface RootUser {
  readonly name: string;
  readonly id: number;
}

/**
 * Fills a folder with what a container needs at least: programs of this machine with their libraries, busybox for a shell
 * and the usual small commands, and one user who is not root.
 */
export function fillRoot(folder: string, programs: readonly string[], user: RootUser): void {
  for (const name of ['bin', 'etc', 'tmp', 'usr/bin', 'usr/sbin', 'usr/local/bin']) mkdirSync(join(folder, name), { recursive: true });
  writeFileSync(join(folder, 'etc/passwd'), `root:x:0:0::/:/bin/sh\n${user.name}:x:${user.id}:${user.id}::/tmp:/bin/sh\n`);
  writeFileSync(join(folder, 'etc/group'), `root:x:0:\n${user.name}:x:${user.id}:\n`);
  copyFileSync(busybox, join(folder, 'bin/busybox'));
  for (const name of output(busybox, ['--list']).split('\n')) {
    if (name !== '' && name !== 'busybox') symlinkSync('/bin/busybox', join(folder, 'bin', name));
  }
  for (const program of programs) {
    copy(program, join(folder, 'usr/bin', basename(program)));
    for (const library of libraries(program)) copy(library, join(folder, library));
  }
}

/** Files that the loader would load, by their paths (ldd(1)); a program may be a library too. */
export function libraries(program: string): string[] {
  return output('ldd', [program]).split('\n').flatMap((line) => /(?:=> |^\s+)(\/\S+) \(0x/.exec(line)?.slice(1) ?? []);
}

function copy(from: string, to: string): void {
  if (existsSync(to)) return;
  mkdirSync(dirname(to), { recursive: true });
  copyFileSync(realpathSync(from), to);
}

function output(command: string, args: readonly string[]): string {
  const { status, stdout, error } = spawnSync(command, args, { encoding: 'utf8' });
  if (status !== 0) throw new Error(`${command} ${args.join(' ')}: ${error?.message ?? `exit code ${String(status)}`}`);
  return stdout;
}
