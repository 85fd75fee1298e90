import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createServer, type AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The built service; FAULTS_PROGRAM names another build of it. */
export const program = process.env['FAULTS_PROGRAM'] ?? fileURLToPath(new URL('../../dist/services/seamwarden.js', import.meta.url));

export interface ProcessOptions {
  readonly dataDir: string;
  /** 0 (the default) takes a free port. */
  readonly mqttPort?: number;
  readonly env?: Readonly<Record<string, string>>;
}

/** A service in a process of its own, which may die at any time. */
export interface ServiceProcess {
  readonly pid: number;
  /** Resolves with its addresses once it says that it listens; rejects where it ends before. */
  readonly listening: Promise<Addresses>;
  /** Resolves with the exit code, null where a signal ended it. */
  readonly ended: Promise<number | null>;
  /** What it has said so far. */
  stdout(): string;
  stderr(): string;
  kill(signal: 'SIGKILL' | 'SIGTERM'): Promise<void>;
}

export interface Addresses {
  readonly http: string;
  readonly mqtt: string;
}

/** Starts the service on ports of this machine's loopback. */
export function startProcess({ dataDir, mqttPort = 0, env = {} }: ProcessOptions): ServiceProcess {
  const own = { SEAMWARDEN_DATA_DIR: dataDir, SEAMWARDEN_HTTP_PORT: '0', SEAMWARDEN_MQTT_PORT: String(mqttPort), SEAMWARDEN_MQTT_URL: '' };
  const child = spawn(process.execPath, [program, 'start'], { env: { ...process.env, ...own, ...env }, stdio: ['ignore', 'pipe', 'pipe'], cwd: tmpdir() });
  let stdout = '';
  let stderr = '';
  const ended = new Promise<number | null>((resolve) => {
    child.once('close', (code) => {
      resolve(code);
    });
  });
  const listening = new Promise<Addresses>((resolve, reject) => {
    child.stdout.on('data', (chunk: Buffer) => {
      stdout += chunk.toString('utf8');
      const line = /^listening http=(\S+) mqtt=(\S+)$/m.exec(stdout);
      if (line?.[1] !== undefined && line[2] !== undefined) resolve({ http: line[1], mqtt: line[2] });
    });
    child.stderr.on('data', (chunk: Buffer) => {
      // Enough to show what went wrong; a service that complains for hours must not fill the memory of the test.
      if (stderr.length < 1_000_000) stderr += chunk.toString('utf8');
    });
    void ended.then((code) => {
      reject(new Error(`the service ended with ${String(code)} before it listened; run "npm run build" first. It said:\n${stderr}`));
    });
  });
  // A test that kills it while it starts does not wait for it to listen.
  listening.catch(() => undefined);
  return {
    pid: child.pid ?? -1,
    listening,
    ended,
    stdout: () => stdout,
    stderr: () => stderr,
    kill: async (signal) => {
      child.kill(signal);
      const stuck = setTimeout(() => child.kill('SIGKILL'), 15_000);
      await ended;
      clearTimeout(stuck);
    },
  };
}

/** A data directory of its own, gone when `remove` is called. */
export function scratchDir(): { readonly path: string; remove(): void } {
  const path = mkdtempSync(join(tmpdir(), 'seamwarden-faults-'));
  return {
    path,
    remove: () => {
      rmSync(path, { recursive: true, force: true });
    },
  };
}

/** A port that nobody listens on now, for a service that has to come back on the same one. */
export async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => {
    server.listen(0, '127.0.0.1', resolve);
  });
  const { port } = server.address() as AddressInfo;
  await new Promise((resolve) => server.close(resolve));
  return port;
}

/** Resident memory of a process in MiB (proc(5), VmRSS). */
export function residentMemory(pid: number): number {
  const line = /^VmRSS:\s+(\d+) kB$/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8'));
  return Number(line?.[1] ?? Number.NaN) / 1024;
}

/** Of the clock in which the kernel counts processor time, 1/s (getconf CLK_TCK; 100 on every usual Linux). */
const ticks = 100;

/** Processor time of all threads of a process so far, µs (proc(5), stat: utime and stime). */
export function processTime(pid: number): number {
  const text = readFileSync(`/proc/${pid}/stat`, 'utf8');
  // The name of the program is in brackets and may contain spaces; utime is field 14.
  const fields = text.slice(text.lastIndexOf(')') + 2).split(' ');
  return ((Number(fields[11]) + Number(fields[12])) / ticks) * 1e6;
}
