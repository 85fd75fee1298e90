import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { root } from './image-names.js';

/** Whether `docker compose` can be run: with the system's plugin, or with the one that the check has put into `.cache`. */
export function findCompose(): boolean {
  const runs = (): boolean => spawnSync('docker', ['compose', 'version'], { stdio: 'ignore' }).status === 0;
  if (runs()) return true;
  const before = process.env['DOCKER_CONFIG'];
  process.env['DOCKER_CONFIG'] = join(root, '.cache/docker-config');
  if (runs()) return true;
  if (before === undefined) delete process.env['DOCKER_CONFIG'];
  else process.env['DOCKER_CONFIG'] = before;
  return false;
}

export interface ComposedService {
  readonly environment: Readonly<Record<string, string | null>>;
  readonly network_mode?: string;
  readonly user?: string;
  readonly ports?: readonly { readonly host_ip?: string; readonly target: number }[];
  readonly restart?: string;
  readonly stop_grace_period?: string;
  readonly image: string;
  readonly volumes: readonly { readonly type: string; readonly target: string }[];
}

export interface ComposedFile {
  readonly services: Readonly<Record<string, ComposedService>>;
  readonly volumes: Readonly<Record<string, unknown>>;
}

export interface Composed {
  readonly file: ComposedFile | null;
  readonly error: string;
}

/** `docker compose config`: the file as it would be run under an environment; it needs no engine. */
export function composeConfig(environment: Readonly<Record<string, string>>): Composed {
  const env = { PATH: process.env['PATH'], HOME: process.env['HOME'], DOCKER_CONFIG: process.env['DOCKER_CONFIG'], ...environment };
  const args = ['compose', '--env-file', '/dev/null', '-f', join(root, 'docker-compose.yml'), 'config', '--format', 'json'];
  const { status, stdout, stderr } = spawnSync('docker', args, { env, encoding: 'utf8' });
  return { file: status === 0 ? (JSON.parse(stdout) as ComposedFile) : null, error: stderr };
}
