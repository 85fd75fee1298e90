import { spawn, spawnSync } from 'node:child_process';
import { closeSync, existsSync, mkdirSync, mkdtempSync, openSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { setTimeout as wait } from 'node:timers/promises';
import { runCommand } from './run-command.mjs';

/** The fuzzer: it reads the OpenAPI description and judges every answer by it. */
const fuzzer = 'schemathesis==4.32.5';
const fuzzSeconds = { soon: 30, full: 90 };
const hooks = fileURLToPath(new URL('fuzz-hooks.py', import.meta.url));

/**
 * Starts the built service, gives it a short run, and lets a fuzzer loose on its API, which begins with a seed. Answers counts:
 * one passed or failed, or one skipped where Python or the fuzzer is not to be had.
 */
export async function fuzzApi(root, write, { full, seed }) {
  const say = (line) => write(`${line}\n`);
  const program = await findFuzzer(root, say);
  if ('missing' in program) {
    say(`skipped: ${program.missing}`);
    return { skipped: 1, note: program.missing };
  }
  const folder = mkdtempSync(join(tmpdir(), 'seamwarden-fuzz-'));
  const service = await startService(root, folder);
  try {
    const ids = await giveData(service);
    const config = join(folder, 'fuzzer.toml');
    writeFileSync(config, configText(ids));
    const reason = await runCommand(program.path, ['--config-file', config, 'run', ...fuzzerArgs(service.http, fuzzSeconds[full ? 'full' : 'soon'], seed)], {
      cwd: folder,
      limit: 5,
      write,
      env: { PYTHONWARNINGS: 'ignore', SCHEMATHESIS_HOOKS: hooks, FUZZ_GIVEN: JSON.stringify(await givenToHooks(service.http, ids)) },
    });
    const alive = await fetch(`${service.http}/api/health`).then((answer) => answer.ok, () => false);
    if (reason === null && alive) {
      await service.stop();
      const problems = checkStore(root, folder);
      if (problems === null) return { passed: 1 };
      say(problems);
      return { failed: 1, note: 'what the service stored is not what it was given' };
    }
    say('The newest that the service wrote into its log:');
    say(readFileSync(logFile(folder), 'utf8').split('\n').slice(-20).join('\n'));
    return { failed: 1, note: alive ? `the fuzzer ${reason}` : 'the service does not answer any more' };
  } finally {
    await service.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}

function fuzzerArgs(http, seconds, seed) {
  return [
    `${http}/api/openapi.json`, '--max-time', String(seconds), '--max-examples', '40', '--seed', String(seed), '--request-timeout', '10', '--no-color',
    // Below the number of writes a minute that the service takes; above it the answers would all be 429.
    '--rate-limit', '45/s',
    // The live feed never ends, so there is no complete answer to check; it has tests of its own.
    '--exclude-path', '/api/live',
  ];
}

/** What cannot be described at all: the text of a log, and which arcs and run groups a procedure has. Every other check is made there too. */
const moreThanSchema = ['POST /api/imports', 'GET /api/capability'];

/** What the hooks need to put requests right: a cursor of each list that has a second page, and the id of the path. */
async function givenToHooks(http, { procedure, run }) {
  const { paths } = await (await fetch(`${http}/api/openapi.json`)).json();
  const cursors = {};
  for (const [path, { get }] of Object.entries(paths)) {
    if (!get?.parameters?.some(({ name }) => name === 'cursor')) continue;
    const { next } = await (await fetch(`${http}${path.replace('{id}', run)}?limit=1`)).json();
    if (next !== null && next !== undefined) cursors[path] = next;
  }
  return { cursors, procedure };
}

function configText(ids) {
  const operation = (choice, lines) => ['[[operations]]', ...choice, ...lines, ''].join('\n');
  return [
    // What is withdrawn stays in the record, and can be read there as withdrawn.
    '[checks]', 'use_after_free.enabled = false', '',
    ...moreThanSchema.map((name) => operation([`include-name = "${name}"`], ['checks.positive_data_acceptance.enabled = false'])),
    operation(["include-path-regex = '^/api/runs/'"], idLines('/api/runs/{id}', ids)),
    operation(["include-path-regex = '^/api/procedures/'"], idLines('/api/procedures/{id}', ids)),
    operation(["include-path-regex = '^/api/alarms/[{]'"], idLines('/api/alarms/{id}', ids)),
  ].join('\n');
}

/** Ids are opaque: without these nearly every call would end in 404. */
function idLines(path, { run, procedure, alarm }) {
  if (path.includes('/api/runs/{id}')) return [`parameters = { "path.id" = "${run}" }`];
  if (path.includes('/api/alarms/{id}')) return [`parameters = { "path.id" = "${alarm}" }`];
  return path.includes('/api/procedures/{id}') ? [`parameters = { "path.id" = "${procedure}" }`] : [];
}

/** Path of the fuzzer, put into `.cache` at the first call; or why it is missing. */
async function findFuzzer(root, say) {
  const environment = join(root, '.cache', fuzzer.replace('==', '-'));
  const program = join(environment, 'bin/st');
  const quietly = { stdio: 'ignore', timeout: 300_000 };
  if (existsSync(program) && spawnSync(program, ['--version'], quietly).status === 0) return { path: program };
  if (spawnSync('python3', ['-c', 'import sys; sys.exit(sys.version_info < (3, 10))'], quietly).status !== 0) return { missing: 'no Python 3.10 or newer' };
  say(`installing ${fuzzer} into .cache`);
  rmSync(environment, { recursive: true, force: true });
  mkdirSync(environment, { recursive: true });
  const install = (command, args) => runCommand(command, args, { cwd: root, limit: 5, write: say });
  if ((await install('python3', ['-m', 'venv', environment])) !== null) return { missing: 'Python has no venv' };
  // Most of what it brings is never run, and so not compiled.
  const reason = await install(join(environment, 'bin/pip'), ['install', '--quiet', '--no-compile', '--disable-pip-version-check', fuzzer]);
  return reason === null ? { path: program } : { missing: `${fuzzer} could not be installed` };
}

/** Whether everything that was stored reads as it was written; else what `seamwarden check` says. */
function checkStore(root, folder) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [join(root, 'dist/services/seamwarden.js'), 'check'], { cwd: folder, env: environmentOf(folder), encoding: 'utf8', timeout: 60_000 });
  return status === 0 ? null : `${stdout}${stderr}`;
}

function environmentOf(folder) {
  return { ...process.env, SEAMWARDEN_DATA_DIR: join(folder, 'data'), SEAMWARDEN_HTTP_PORT: '0', SEAMWARDEN_MQTT_PORT: '0', SEAMWARDEN_MQTT_URL: '' };
}

function logFile(folder) {
  return join(folder, 'service.log');
}

async function startService(root, folder) {
  const log = openSync(logFile(folder), 'w');
  const child = spawn(process.execPath, [join(root, 'dist/services/seamwarden.js'), 'start'], {
    cwd: folder,
    env: environmentOf(folder),
    stdio: ['ignore', 'pipe', log],
  });
  closeSync(log);
  const ended = new Promise((resolve) => child.once('exit', resolve));
  const stop = async () => {
    child.kill('SIGTERM');
    const stuck = setTimeout(() => child.kill('SIGKILL'), 10_000);
    await ended;
    clearTimeout(stuck);
  };
  let said = '';
  for await (const chunk of child.stdout) {
    said += chunk;
    const [, http, mqtt] = /listening http=(\S+) mqtt=(\S+)/.exec(said) ?? [];
    if (mqtt !== undefined) return { http, mqtt, stop };
  }
  throw new Error(`the service did not start; it said: ${said}${readFileSync(logFile(folder), 'utf8')}`);
}

/** A finished run of 10 s to a procedure, with an alarm, and two items refused; answers their ids. */
async function giveData({ http, mqtt }) {
  const procedure = {
    id: 'FUZZ-1', title: 'Made for the fuzzer', process: '121', by: 'check',
    runGroups: [{ name: 'all', runs: [1, 9], arcs: [{ arc: 1, current: { min: 580, max: 680 } }] }],
  };
  const made = await fetch(`${http}/api/procedures`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(procedure) });
  if (!made.ok) throw new Error(`the procedure was not taken: ${await made.text()}`);
  const { connectAsync } = await import('mqtt');
  const client = await connectAsync(mqtt);
  const publish = (kind, payload) => client.publishAsync(`weld/fuzz/C1/${kind}`, payload, { qos: 1 });
  await publish('status', 'online');
  await publish('assignment', JSON.stringify({ seam: 'F1', run: 1, procedure: procedure.id }));
  const start = Date.now() - 60_000;
  for (let second = 0; second < 12; second += 1) {
    const on = second < 10;
    const readings = Array.from({ length: 10 }, (_, tenth) => ({
      boot: 'b1', seq: second * 10 + tenth, time: start + second * 1000 + tenth * 100,
      current: on ? (second >= 4 && second < 8 ? 700 : 600) : 0, voltage: on ? 30 : 0, travelSpeed: on ? 600 : 0,
    }));
    await publish('readings', JSON.stringify(readings));
  }
  await publish('readings', '{"current": "much"}');
  await publish('readings', '{"current": "more"}');
  await publish('assignment', '');
  await client.endAsync();
  for (let tries = 0; tries < 100; tries += 1) {
    const { items } = await (await fetch(`${http}/api/runs?state=finished`)).json();
    const alarms = (await (await fetch(`${http}/api/alarms`)).json()).items;
    if (items.length > 0 && alarms.length > 0) return { run: items[0].id, procedure: procedure.id, alarm: alarms[0].id };
    await wait(100);
  }
  throw new Error('the run that was sent, or its alarm, did not appear');
}
