// `npm run demo`: installs and builds what is missing or old, then runs the demo. Plain Node, since there may be nothing else yet.
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { checkNode, installPackages, packagesAreOld } from './install-packages.mjs';

const root = fileURLToPath(new URL('../../', import.meta.url));
const program = join(root, 'dist/services/seamwarden.js');

/** A signal repeated within this time is the same press of Ctrl-C: the terminal and npm both pass it on. */
const sameSignalMs = 500;

function say(line) {
  process.stderr.write(`${line}\n`);
}

function build() {
  const { status, error } = spawnSync(process.platform === 'win32' ? 'npm.cmd' : 'npm', ['run', '--silent', 'build'], {
    cwd: root,
    stdio: ['ignore', 2, 2],
    shell: process.platform === 'win32',
  });
  if (status !== 0) throw new Error(`npm run build failed${error === undefined ? '' : `: ${error.message}`}`);
}

/** Whether the built program or the built pages are missing, or older than their sources. */
function buildIsOld() {
  const built = [program, join(root, 'dist/dashboards/index.html')];
  if (built.some((file) => !existsSync(file))) return true;
  const oldest = Math.min(...built.map((file) => statSync(file).mtimeMs));
  const sources = ['package-lock.json', 'tsconfig.json', ...['shared', 'services', 'dashboards'].flatMap(filesBelow)];
  return sources.some((file) => statSync(join(root, file)).mtimeMs > oldest);
}

function filesBelow(folder) {
  return readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath.slice(root.length), entry.name));
}

/** Runs the demo in a process group of its own, so that it gets a signal once, from here, and can end in order. */
function run(args) {
  const demo = spawn(process.execPath, [program, 'demo', ...args], { stdio: ['ignore', 'inherit', 'inherit'], detached: process.platform !== 'win32' });
  let passedOn = -Infinity;
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) {
    process.on(signal, () => {
      const now = performance.now();
      if (now - passedOn < sameSignalMs) return;
      passedOn = now;
      demo.kill(signal === 'SIGHUP' ? 'SIGTERM' : signal);
    });
  }
  demo.once('error', (error) => {
    say(`error: the demo cannot be started: ${error.message}`);
    process.exitCode = 1;
  });
  demo.once('exit', (code, signal) => {
    process.exitCode = code ?? (signal === 'SIGINT' ? 130 : 1);
  });
}

try {
  checkNode();
  if (packagesAreOld(root)) {
    say('Installing packages (once; a minute or two) …');
    installPackages(root);
  }
  if (buildIsOld()) {
    say('Building …');
    build();
  }
  run(process.argv.slice(2));
} catch (thrown) {
  say(`error: ${thrown instanceof Error ? thrown.message : String(thrown)}`);
  process.exitCode = 1;
}
