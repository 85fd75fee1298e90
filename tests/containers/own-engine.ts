import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdirSync, mkdtempSync, openSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { request } from 'node:http';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';

const program = '/usr/sbin/dockerd';

export interface OwnEngine {
  /** For `DOCKER_HOST`. */
  readonly host: string;
  /** Ends the engine with all that runs in it and removes what it stored. */
  stop(): Promise<void>;
}

/** Why no engine of our own can run here, or null. */
export function whyNoOwnEngine(): string | null {
  if (process.platform !== 'linux') return 'this is no Linux';
  if (!existsSync(program)) return `no ${program} (Debian package docker.io)`;
  return process.getuid?.() === 0 ? null : 'only root may start a container engine';
}

/**
 * Starts an engine beside any other, in a folder of its own. It leaves the machine's packet filter and routing alone, so its
 * containers reach nothing outside, and their ports are published on loopback by a proxy.
 */
export async function startOwnEngine(): Promise<OwnEngine> {
  // Not the folder for temporary files: that may be a file system in memory, on which layers cannot be stacked.
  const parent = '/var/lib/seamwarden-tests';
  mkdirSync(parent, { recursive: true });
  for (const name of readdirSync(parent)) removeIfDead(join(parent, name));
  const folder = mkdtempSync(join(parent, `engine-${process.pid}-`));
  const socket = join(folder, 'docker.sock');
  const host = `unix://${socket}`;
  const log = join(folder, 'log');
  const at = (name: string): string => join(folder, name);
  const flags = ['--host', host, '--data-root', at('data'), '--exec-root', at('exec'), '--pidfile', at('pid'), '--ip', '127.0.0.1', '--iptables=false', '--ip-forward=false'];
  const output = openSync(log, 'w');
  const child = spawn(program, flags, { stdio: ['ignore', output, output] });
  const ended = once(child, 'exit');
  const endWithUs = (): void => {
    child.kill('SIGTERM');
  };
  process.once('exit', endWithUs);

  async function stop(): Promise<void> {
    if (child.exitCode === null && child.signalCode === null) {
      child.kill('SIGTERM');
      const stuck = setTimeout(() => child.kill('SIGKILL'), 20_000);
      await ended;
      clearTimeout(stuck);
    }
    process.removeListener('exit', endWithUs);
    removeFolder(folder);
  }

  for (let tries = 0; tries < 300; tries += 1) {
    if (child.exitCode !== null) break;
    if (await answers(socket)) return { host, stop };
    await wait(100);
  }
  const said = readFileSync(log, 'utf8').trimEnd().split('\n').slice(-5).join('\n');
  await stop();
  throw new Error(`the container engine did not start; it said:\n${said}`);
}

/** Mounts that an engine left when it was killed would keep its folder from being removed. */
function removeFolder(folder: string): void {
  const mounts = readFileSync('/proc/mounts', 'utf8').split('\n').map((line) => line.split(' ')[1] ?? '').filter((path) => path.startsWith(`${folder}/`));
  for (const path of mounts.reverse()) spawnSync('umount', ['--lazy', path]);
  rmSync(folder, { recursive: true, force: true });
}

/** What a run left behind that was killed itself: the name says whose it is. */
function removeIfDead(folder: string): void {
  const owner = /engine-(\d+)-[^/]+$/.exec(folder)?.[1];
  if (owner === undefined || existsSync(`/proc/${owner}`)) return;
  const pidFile = join(folder, 'pid');
  if (existsSync(pidFile)) {
    const pid = readFileSync(pidFile, 'utf8').trim();
    if (existsSync(`/proc/${pid}/cmdline`) && readFileSync(`/proc/${pid}/cmdline`, 'utf8').includes(folder)) process.kill(Number(pid), 'SIGKILL');
  }
  removeFolder(folder);
}

/** Whether an engine listens on a socket. */
export function answers(socketPath: string): Promise<boolean> {
  return new Promise((resolve) => {
    const ask = request({ socketPath, path: '/_ping', timeout: 5_000 }, (answer) => {
      answer.resume();
      resolve(answer.statusCode === 200);
    });
    ask.once('error', () => {
      resolve(false);
    });
    ask.once('timeout', () => {
      ask.destroy();
    });
    ask.end();
  });
}
