import { spawnSync } from 'node:child_process';
import { existsSync, statSync } from 'node:fs';
import { join } from 'node:path';

/** Oldest Node that the packages of the lock file run on. */
const oldestNode = [20, 19];

/** Throws if this Node is too old for the packages. */
export function checkNode(version = process.versions.node) {
  const [major = 0, minor = 0] = version.split('.').map(Number);
  if (major > oldestNode[0] || (major === oldestNode[0] && minor >= oldestNode[1])) return;
  throw new Error(`Node ${version} is too old, takes ${oldestNode.join('.')} or newer`);
}

/** Whether the packages in the lock file are not installed, or were installed for an older lock file. */
export function packagesAreOld(root) {
  const lock = join(root, 'package-lock.json');
  // npm writes this file last, so it also shows that an installation was complete.
  const installed = join(root, 'node_modules/.package-lock.json');
  return !existsSync(installed) || statSync(installed).mtimeMs < statSync(lock).mtimeMs;
}

/** Installs exactly what the lock file names. No package needs a script of its own: binaries come inside the packages. */
export function installPackages(root) {
  npm(root, ['ci', '--ignore-scripts', '--no-audit', '--no-fund']);
}

function npm(root, args) {
  const onWindows = process.platform === 'win32';
  const { status, signal, error } = spawnSync(onWindows ? 'npm.cmd' : 'npm', args, {
    cwd: root,
    // Errors of npm are for people, so they go to stderr: stdout of a command must stay clean for programs.
    stdio: ['ignore', 2, 2],
    shell: onWindows,
  });
  if (error !== undefined) throw new Error(`npm cannot be run: ${error.message}`);
  if (status !== 0) throw new Error(`npm ${args.join(' ')} ended with ${signal ?? `exit code ${status}`}`);
}
