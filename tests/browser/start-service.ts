import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { built } from './built.js';

const program = join(built, 'services/seamwarden.js');
const pages = join(built, 'dashboards/index.html');

export interface ServiceUnderTest {
  /** `http://HOST:PORT` and `mqtt://HOST:PORT`; they stay the same over `startAgain`. */
  readonly http: string;
  readonly mqtt: string;
  /** Ends the process and leaves its data. */
  readonly stop: () => Promise<void>;
  /** Starts it on the same ports and data. */
  readonly startAgain: () => Promise<void>;
  /** Ends the process and removes its data. */
  readonly remove: () => Promise<void>;
}

interface Started {
  readonly child: ChildProcess;
  readonly http: string;
  readonly mqtt: string;
}

/** Starts the built service on free ports and a data directory of its own. Throws with what it said where it does not come up. */
export async function startService(environment: Readonly<Record<string, string>> = {}): Promise<ServiceUnderTest> {
  if (!existsSync(program) || !existsSync(pages)) throw new Error('the service or its pages are not built; run "npm run build" first');
  const directory = mkdtempSync(join(tmpdir(), 'seamwarden-browser-'));
  let running: Started | null = await start(directory, { ...environment, SEAMWARDEN_HTTP_PORT: '0', SEAMWARDEN_MQTT_PORT: '0' });
  const { http, mqtt } = running;
  const stop = async (): Promise<void> => {
    if (running !== null) await end(running.child);
    running = null;
  };
  return {
    http,
    mqtt,
    stop,
    startAgain: async () => {
      running = await start(directory, { ...environment, SEAMWARDEN_HTTP_PORT: new URL(http).port, SEAMWARDEN_MQTT_PORT: new URL(mqtt).port });
    },
    remove: async () => {
      await stop();
      rmSync(directory, { recursive: true, force: true });
    },
  };
}

async function start(directory: string, environment: Readonly<Record<string, string>>): Promise<Started> {
  const child = spawn(process.execPath, [program, 'start'], {
    env: { ...process.env, SEAMWARDEN_DATA_DIR: directory, SEAMWARDEN_MQTT_URL: '', ...environment },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  const address = await new Promise<readonly [string, string] | null>((resolve) => {
    const hear = (chunk: Buffer): void => {
      said += chunk.toString('utf8');
      const line = /listening http=(\S+) mqtt=(\S+)/.exec(said);
      if (line?.[1] !== undefined && line[2] !== undefined) resolve([line[1], line[2]]);
    };
    child.stdout.on('data', hear);
    child.stderr.on('data', hear);
    child.once('close', () => {
      resolve(null);
    });
    setTimeout(() => {
      resolve(null);
    }, 30_000).unref();
  });
  if (address === null) {
    await end(child);
    throw new Error(`the service did not say that it listens. It said:\n${said}`);
  }
  // A full pipe must not hold the service up.
  child.stdout.removeAllListeners('data').resume();
  child.stderr.removeAllListeners('data').resume();
  return { child, http: address[0], mqtt: address[1] };
}

async function end(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const closed = new Promise((resolve) => child.once('close', resolve));
  child.kill('SIGTERM');
  const stuck = setTimeout(() => child.kill('SIGKILL'), 10_000);
  await closed;
  clearTimeout(stuck);
}
