import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { program } from '../faults/service-process.js';

/** Address of a file of the built service, by its path in the tree: what is measured is what runs. */
export function builtFile(path: string): string {
  return new URL(`../../${path}`, pathToFileURL(program)).href;
}

/** Builds the service where that has not been done. */
export function ensureBuilt(say: (text: string) => void): void {
  if (existsSync(program)) return;
  say('npm run build');
  const { status } = spawnSync('npm', ['run', 'build'], { cwd: fileURLToPath(new URL('../../', import.meta.url)), stdio: ['ignore', 'ignore', 'inherit'] });
  if (status !== 0) throw new Error('npm run build failed');
}
