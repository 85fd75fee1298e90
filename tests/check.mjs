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
  --no-install   takes packages and programs as they are
Random tests begin at another seed each time; CHECK_SEED=N begins at N.`;

const steps = [];

function write(text) {
  process.stdout.write(text);
}

function say(line) {
  write(`${line}\n`);
}

/** Runs one step and notes how it went: `work` is handed where its output goes and answers null, the reason of a failure, or counts. */
async function step(name, work, out = write) {
  out(`\n── ${name}\n`);
  const begun = performance.now();
  let outcome;
  try {
    outcome = await work(out);
  } catch (thrown) {
    outcome = thrown instanceof Error ? thrown.message : String(thrown);
  }
  const seconds = (performance.now() - begun) / 1e3;
  const none = { passed: 0, failed: 0, skipped: 0, note: null, failures: [] };
  const noted = typeof outcome === 'string' ? { ...none, failed: 1, note: outcome } : { ...none, ...outcome };
  steps.push({ name, seconds, ...noted });
  out(`── ${name}: ${noted.failed === 0 ? 'done' : 'FAILED'} after ${seconds.toFixed(1)} s${noted.note === null ? '' : ` (${noted.note})`}\n`);
  return noted.failed === 0;
}

/** A step with others beside it: what it says comes when it ends, so that nothing is mixed up. */
async function stepBeside(name, work) {
  say(`\n── ${name} begins`);
  let said = '';
  await step(name, work, (text) => { said += text; });
  write(said);
}

const node = (args, more) => runCommand(process.execPath, args, { cwd: root, limit: 10, ...more });
const npmRun = (script, out) => runCommand('npm', ['run', '--silent', script], { cwd: root, limit: 10, write: out });

function packages() {
  installPackages(root);
  return null;
}

/** Runs the tests of projects of `.config/vitest.config.ts`. */
async function tests(projects, { full, seed }, out = null) {
  const folder = mkdtempSync(join(tmpdir(), 'seamwarden-check-'));
  const report = join(folder, 'report.json');
  const args = ['node_modules/vitest/vitest.mjs', 'run', '--config', '.config/vitest.config.ts', ...projects.map((name) => `--project=${name}`), '--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  try {
    const reason = await node(args, { limit: 45, write: out, env: { CHECK_SEED: String(seed), ...(full ? { CHECK_COUNTS: 'full' } : {}) } });
    return vitestCounts(report, reason);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function check({ install, full, seed }) {
  if (install) {
    if (!(await step('packages (npm ci)', packages))) return;
    await step('system parts', () => {
      const without = systemParts(say);
      rulesChecker(root, say);
      for (const line of without) say(line);
      return { note: without.length === 0 ? null : without.join('; ') };
    });
  }
  // What is tested is the built service; an older one would say nothing.
  const built = await step('build', () => npmRun('build', null));
  // Beside what computes on one core, what mostly waits.
  await Promise.all([
    stepBeside('types, lint', (out) => node(['tests/check/check-sources.mjs'], { write: out })),
    built ? stepBeside('API fuzzed', (out) => fuzzApi(root, out, { full, seed })) : null,
    built ? stepBeside('tests: processes', (out) => tests(['processes'], { full, seed }, out)) : null,
  ]);
  if (!built) return;
  await step('tests: parts, pages', () => tests(['parts', 'pages'], { full, seed }));
  // Delays and memory are measured with nothing beside.
  await step('tests: measured', () => tests(['measured'], { full, seed }));
}

function summary() {
  const sum = (key) => steps.reduce((total, own) => total + own[key], 0);
  const widest = Math.max(...steps.map((own) => own.name.length));
  say(`\n${'step'.padEnd(widest)}       time   passed  failed  skipped`);
  for (const { name, seconds, passed, failed, skipped, note } of steps) {
    const numbers = [passed, failed, skipped].map((count, at) => String(count).padStart([9, 8, 9][at])).join('');
    say(`${name.padEnd(widest)} ${seconds.toFixed(1).padStart(8)} s${numbers}${note === null ? '' : `  ${note}`}`);
  }
  // Once more at the end, since thousands of lines may have come after a failure.
  for (const failure of steps.flatMap((own) => own.failures)) say(`\nFAILED: ${failure}`);
  const skipped = sum('skipped');
  if (sum('failed') > 0) say(`\nRandom tests began at seed ${seed}; CHECK_SEED=${seed} begins there again, here and with npm test.`);
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
const seed = Number(process.env['CHECK_SEED'] || 1 + Math.floor(Math.random() * 2 ** 31));
if (!Number.isSafeInteger(seed) || seed < 1) {
  say(`CHECK_SEED: got ${JSON.stringify(process.env['CHECK_SEED'])}, expected a whole number from 1\n\n0 passed, 1 failed`);
  process.exit(2);
}
say(`Random tests begin at seed ${seed}; CHECK_SEED=${seed} begins there again.`);
await check({ install: !args.includes('--no-install'), full: args.includes('--full'), seed });
const good = summary() && interruptedBy() === null;
process.exit(good ? 0 : 1);
