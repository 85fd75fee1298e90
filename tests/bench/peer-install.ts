import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const folder = fileURLToPath(new URL('../../.cache/bench-peer/', import.meta.url));
/** 5 asks for a newer Node than this project does. */
const wanted = ['node-red@4', 'node-red-node-sqlite@1'];

export interface FlowEngine {
  /** The program to start with Node. */
  readonly program: string;
  readonly version: string;
}

/** Installs the flow engine into `.cache/` if it is not there; it is not a dependency of the project. Returns the reason if it is not available. */
export function installFlowEngine(say: (text: string) => void): FlowEngine | string {
  const program = join(folder, 'node_modules/node-red/red.js');
  const binding = join(folder, 'node_modules/sqlite3/build/Release/node_sqlite3.node');
  if (!existsSync(program) || !existsSync(binding)) {
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, 'package.json'), '{"name":"bench-peer","private":true}\n');
    say(`npm install ${wanted.join(' ')} (once; may take minutes)`);
    const { status, stderr } = spawnSync('npm', ['install', '--no-audit', '--no-fund', ...wanted], { cwd: folder, encoding: 'utf8', stdio: ['ignore', 'ignore', 'pipe'] });
    if (status !== 0) return `npm install failed: ${stderr.trim().split('\n').at(-1) ?? ''}`;
    if (!existsSync(binding)) return 'its SQLite part could not be compiled';
  }
  const { version } = JSON.parse(readFileSync(join(folder, 'node_modules/node-red/package.json'), 'utf8')) as { version: string };
  return { program, version };
}
