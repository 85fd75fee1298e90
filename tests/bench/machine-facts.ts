import { execFileSync, spawnSync } from 'node:child_process';
import { closeSync, fsyncSync, mkdtempSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs';
import { cpus, loadavg, release, tmpdir, totalmem } from 'node:os';
import { join } from 'node:path';
import { openSqlite } from '../../shared/sqlite/sqlite-file.js';
import { quantile, median } from './spread.js';

const root = new URL('../../', import.meta.url);
const packages = ['mqtt', 'aedes', 'mqtt-packet', '@photostructure/sqlite'];

function versionOf(name: string): string {
  return (JSON.parse(readFileSync(new URL(`node_modules/${name}/package.json`, root), 'utf8')) as { version: string }).version;
}

function mosquittoVersion(): string {
  const { stdout } = spawnSync('/usr/sbin/mosquitto', ['-h'], { encoding: 'utf8' });
  return /version (\S+)/.exec(stdout)?.[1] ?? 'not installed';
}

/** How long the disk takes to sync 16 KiB behind a file's end, ms: of 50 syncs. */
function syncTimes(): number[] {
  const folder = mkdtempSync(join(tmpdir(), 'seamwarden-bench-sync-'));
  const file = openSync(join(folder, 'file'), 'w');
  const page = Buffer.alloc(16_384, 1);
  try {
    return Array.from({ length: 50 }, () => {
      writeSync(file, page);
      const begun = performance.now();
      fsyncSync(file);
      return performance.now() - begun;
    });
  } finally {
    closeSync(file);
    rmSync(folder, { recursive: true });
  }
}

/** The commit that is measured, and whether the tree differs from it. */
export function commitOf(): string {
  const git = (...args: string[]): string => execFileSync('git', args, { cwd: root, encoding: 'utf8' }).trim();
  try {
    return `${git('rev-parse', '--short=12', 'HEAD')}${git('status', '--porcelain', '--', 'services', 'shared') === '' ? '' : ' with changes'}`;
  } catch {
    return 'no repository';
  }
}

export function loadNow(): string {
  return loadavg().slice(0, 1).map((load) => load.toFixed(1)).join();
}

/** What a reader has to know of the machine to compare figures. */
export function machineFacts(): [string, string][] {
  const syncs = syncTimes();
  const sqlite = openSqlite(':memory:');
  const sqliteVersion = sqlite.prepare('select sqlite_version()').pluck().get() as string;
  sqlite.close();
  return [
    ['processor', `${cpus().length} cores, ${cpus()[0]?.model ?? 'unknown'}`],
    ['memory', `${(totalmem() / 2 ** 30).toFixed(0)} GiB`],
    ['kernel', release()],
    ['Node', process.version],
    ['disk: sync of 16 KiB', `median ${median(syncs).toFixed(2)} ms, p95 ${quantile(syncs, 0.95).toFixed(2)} ms`],
    ['packages', packages.map((name) => `${name} ${versionOf(name)}`).join(', ')],
    ['SQLite', sqliteVersion],
    ['Mosquitto', mosquittoVersion()],
    ['commit', commitOf()],
  ];
}
