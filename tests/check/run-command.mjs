import { spawn } from 'node:child_process';

const running = new Set();
let interrupted = null;

/** Ends what is running when the check itself is asked to end. */
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) {
  process.on(signal, () => {
    interrupted = signal;
    for (const child of running) endGroup(child, 'SIGTERM');
  });
}

/** The signal that ended the check, or null. */
export function interruptedBy() {
  return interrupted;
}

/**
 * Runs a command to its end, its output passed through, or to `write` where that is given. Answers null where it succeeded,
 * else why not. What is still running after `limit` minutes is ended, with everything that it started.
 */
export function runCommand(command, args, { cwd, limit, env = {}, write = null }) {
  return new Promise((resolve) => {
    if (interrupted !== null) {
      resolve(`not run: ${interrupted}`);
      return;
    }
    const output = write === null ? 'inherit' : 'pipe';
    const child = spawn(command, args, { cwd, stdio: ['ignore', output, output], env: { ...process.env, ...env }, detached: process.platform !== 'win32' });
    if (write !== null) for (const stream of [child.stdout, child.stderr]) stream.setEncoding('utf8').on('data', write);
    running.add(child);
    let late = false;
    const timer = setTimeout(() => {
      late = true;
      endGroup(child, 'SIGTERM');
      setTimeout(() => endGroup(child, 'SIGKILL'), 10_000).unref();
    }, limit * 60_000);
    const done = (reason) => {
      clearTimeout(timer);
      running.delete(child);
      resolve(reason);
    };
    child.once('error', (error) => done(`${command} cannot be run: ${error.message}`));
    child.once('exit', (code, signal) => {
      const end = () => done(late ? `took longer than ${limit} minutes` : code === 0 ? null : `ended with ${signal ?? `exit code ${code}`}`);
      if (write === null) return end();
      // What it wrote last may still be on its way; what it left running may hold its output open.
      const waited = setTimeout(end, 2_000);
      child.once('close', () => {
        clearTimeout(waited);
        end();
      });
    });
  });
}

function endGroup(child, signal) {
  try {
    if (process.platform === 'win32') child.kill(signal);
    else process.kill(-child.pid, signal);
  } catch {
    // It has ended meanwhile.
  }
}
