// `npm run check`: everything that has to hold before a change is merged. Plain Node, since there may be nothing else yet.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { checkNode, installPackages } from '../services/cli/install-packages.mjs';
import { fuzzApi } from './check/fuzz-api.mjs';
import { interruptedBy, runCommand } from './check/run-command.mjs';
import { rulesChecker, systemParts } from './check/system-parts.mjs';
import { vitestCounts } from './check/vitest-counts.mjs';

const root = fileURLToPath(new URL('../', import.meta.url));
const usage = `Usage: node tests/check.mjs [--full] [--no-install]

Installs what is missing, builds, lints, checks types, fuzzes the API and runs every test.
  --full         with as many faults and random runs as before a change is taken
  --no-install   takes packages and programs as they are`;

const steps = [];

function say(line) {
  process.stdout.write(`${line}\n`);
}

/** Runs one step and notes how it went: `work` answers null, the reason of a failure, or counts. */
async function step(name, work) {
  say(`\n── ${name}`);
  const begun = performance.now();
  let outcome;
  try {
    outcome = await work();
  } catch (thrown) {
    outcome = thrown instanceof Error ? thrown.message : String(thrown);
  }
  const seconds = (performance.now() - begun) / 1e3;
  const none = { passed: 0, failed: 0, skipped: 0, note: null };
  const noted = typeof outcome === 'string' ? { ...none, failed: 1, note: outcome } : { ...none, ...outcome };
  steps.push({ name, seconds, ...noted });
  say(`── ${name}: ${noted.failed === 0 ? 'done' : 'FAILED'} after ${seconds.toFixed(1)} s${noted.note === null ? '' : ` (${noted.note})`}`);
  return noted.failed === 0;
}

const npmRun = (script) => runCommand('npm', ['run', '--silent', script], { cwd: root, limit: 10 });

function packages() {
  installPackages(root);
  return null;
}

async function tests(full) {
  const folder = mkdtempSync(join(tmpdir(), 'seamwarden-check-'));
  const report = join(folder, 'report.json');
  const args = ['node_modules/vitest/vitest.mjs', 'run', '--config', '.config/vitest.config.ts', '--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  try {
    const reason = await runCommand(process.execPath, args, { cwd: root, limit: 45, env: full ? { CHECK_COUNTS: 'full' } : {} });
    return vitestCounts(report, reason);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function check({ install, full }) {
  if (install) {
    if (!(await step('packages (npm ci)', packages))) return;
    await step('system parts', () => {
      const without = systemParts(say);
      rulesChecker(root, say);
      for (const line of without) say(line);
      return { note: without.length === 0 ? null : without.join('; ') };
    });
  }
  const built = await step('build', () => npmRun('build'));
  // What is tested is the built service; an older one would say nothing. None of these keeps both cores busy; the tests would.
  await Promise.all([sources(), built ? step('API fuzzed', () => fuzzApi(root, say, full)) : null]);
  if (built) await step('tests', () => tests(full));
}

async function sources() {
  await step('lint', () => npmRun('lint'));
  await step('types', () => npmRun('typecheck'));
}

function summary() {
  const sum = (key) => steps.reduce((total, own) => total + own[key], 0);
  const widest = Math.max(...steps.map((own) => own.name.length));
  say(`\n${'step'.padEnd(widest)}       time   passed  failed  skipped`);
  for (const { name, seconds, passed, failed, skipped, note } of steps) {
    const numbers = [passed, failed, skipped].map((count, at) => String(count).padStart([9, 8, 9][at])).join('');
    say(`${name.padEnd(widest)} ${seconds.toFixed(1).padStart(8)} s${numbers}${note === null ? '' : `  ${note}`}`);
  }
  const skipped = sum('skipped');
  say(`\n${sum('passed')} passed, ${sum('failed')} failed${skipped === 0 ? '' : `, ${skipped} skipped`}`);
  return sum('failed') === 0;
}

const args = process.argv.slice(2);
if (args.includes('--help') || args.some((arg) => arg !== '--no-install' && arg !== '--full')) {
  say(usage);
  process.exit(args.includes('--help') ? 0 : 2);
}
try {
  checkNode();
} catch (thrown) {
  say(`${thrown.message}\n\n0 passed, 1 failed`);
  process.exit(1);
}
await check({ install: !args.includes('--no-install'), full: args.includes('--full') });
const good = summary() && interruptedBy() === null;
process.exit(good ? 0 : 1);
