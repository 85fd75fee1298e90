import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';

/** Oldest Node that the packages of the lock file run on. */
const oldestNode = [20, 19];

/** Throws where this Node is too old for the packages. */
export function checkNode(version = process.versions.node) {
  const [major = 0, minor = 0] = version.split('.').map(Number);
  if (major > oldestNode[0] || (major === oldestNode[0] && minor >= oldestNode[1])) return;
  throw new Error(`Node ${version} is too old, takes ${oldestNode.join('.')} or newer`);
}

/** Whether what the lock file names is not installed, or was installed for an older one. */
export function packagesAreOld(root) {
  const lock = join(root, 'package-lock.json');
  // npm writes this file last, so it also tells that an installation was not cut off.
  const installed = join(root, 'node_modules/.package-lock.json');
  return !existsSync(installed) || statSync(installed).mtimeMs < statSync(lock).mtimeMs;
}

/**
 * Installs exactly what the lock file names. Of all the packages only those in `allowScripts` of package.json may run
 * a script of their own: newer npm reads that field itself, older ones would run every script there is.
 */
export function installPackages(root) {
  const { allowScripts = {} } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  const allowed = Object.keys(allowScripts).filter((name) => allowScripts[name] === true);
  npm(root, ['ci', '--ignore-scripts', '--no-audit', '--no-fund']);
  npm(root, ['rebuild', ...allowed]);
}

function npm(root, args) {
  const onWindows = process.platform === 'win32';
  const { status, signal, error } = spawnSync(onWindows ? 'npm.cmd' : 'npm', args, {
    cwd: root,
    // Errors of npm are for people: what a command prints for programs must stay free of them.
    stdio: ['ignore', 2, 2],
    env: { ...process.env, ...headersOfThisNode() },
    shell: onWindows,
  });
  if (error !== undefined) throw new Error(`npm cannot be run: ${error.message}`);
  if (status !== 0) throw new Error(`npm ${args.join(' ')} ended with ${signal ?? `exit code ${status}`}`);
}

/** A package that has to be compiled looks for Node's headers on the net, unless it is told that they are here. */
function headersOfThisNode() {
  const prefix = dirname(dirname(process.execPath));
  const known = process.env['npm_config_nodedir'] !== undefined || !existsSync(join(prefix, 'include/node/node.h'));
  return known ? {} : { npm_config_nodedir: prefix };
}
