import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { accountProblems } from '../ingest/accounted.js';
import type { ServiceAddress } from './case-answers.js';

const program = fileURLToPath(new URL('../../dist/services/seamwarden.js', import.meta.url));

export interface RunningService extends ServiceAddress {
  /** Stops the service, and returns the errors in the accounting of its stored items, a line each. */
  readonly stop: () => Promise<string[]>;
}

/** Starts the built service on free ports with a new data directory, and waits until it says that it listens. */
export async function startService(): Promise<RunningService> {
  const directory = mkdtempSync(join(tmpdir(), 'seamwarden-replay-'));
  const child = spawn(process.execPath, [program, 'start'], {
    env: { ...process.env, SEAMWARDEN_DATA_DIR: directory, SEAMWARDEN_HTTP_PORT: '0', SEAMWARDEN_MQTT_PORT: '0', SEAMWARDEN_MQTT_URL: '' },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const ended = new Promise<void>((resolve) => {
    child.once('close', () => {
      resolve();
    });
  });
  const stop = async (): Promise<string[]> => {
    child.kill('SIGTERM');
    const stuck = setTimeout(() => child.kill('SIGKILL'), 10_000);
    await ended;
    clearTimeout(stuck);
    const problems = existsSync(join(directory, 'seamwarden.db')) ? accountProblems(directory) : [];
    rmSync(directory, { recursive: true, force: true });
    return problems;
  };
  let said = '';
  const address = await new Promise<ServiceAddress | null>((resolve) => {
    const hear = (chunk: Buffer): void => {
      said += chunk.toString('utf8');
      const line = /listening http=(http:\/\/\S+?) mqtt=(mqtt:\/\/[^\s"]+)/.exec(said);
      if (line?.[1] !== undefined && line[2] !== undefined) resolve({ http: line[1], mqtt: line[2] });
    };
    child.stdout.on('data', hear);
    child.stderr.on('data', hear);
    const late = setTimeout(() => {
      resolve(null);
    }, 30_000);
    void ended.then(() => {
      clearTimeout(late);
      resolve(null);
    });
  });
  if (address === null) {
    await stop();
    throw new Error(`the service did not say that it listens; run "npm run build" first. It said:\n${said}`);
  }
  // later output must not fill the memory, and a full pipe must not block the service
  child.stdout.removeAllListeners('data').resume();
  child.stderr.removeAllListeners('data').resume();
  return { ...address, stop };
}
