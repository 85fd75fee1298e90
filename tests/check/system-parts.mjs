import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync, mkdirSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { composeIsThere, fetchComposePlugin } from './compose-plugin.mjs';

/** What some tests use beside Node, the Debian packages it is in, and what is not tested without it. */
const parts = [
  { name: 'mosquitto', packages: ['mosquitto'], without: 'the tests against an outside broker' },
  { name: 'mosquitto_pub', packages: ['mosquitto-clients'], without: 'the tests with another client' },
  { name: 'openssl', packages: ['openssl'], without: 'the tests of TLS' },
  // The browser without windows of its own takes a third less time for the same pages; Debian alone has it, and nothing is skipped without it.
  { name: 'chromium-headless-shell', packages: ['chromium-headless-shell'], without: null, isThere: () => hasProgram('chromium-headless-shell') || !/^ID=debian$/m.test(osRelease()) },
  { name: 'chromium', packages: ['chromium'], without: 'the tests of the pages in a browser', isThere: () => hasProgram('chromium-headless-shell') || hasProgram('chromium') },
  { name: 'strace', packages: ['strace'], without: 'the test that watches system calls' },
  { name: 'faketime', packages: ['faketime'], without: 'the test that sets the clock of the service' },
  { name: 'gcc', packages: ['gcc', 'libc6-dev'], without: 'the tests with files that fail' },
  {
    name: 'python3 with prometheus_client',
    packages: ['python3', 'python3-prometheus-client'],
    without: 'the reading of the metrics by another program',
    isThere: () => succeeds('/usr/bin/python3', ['-c', 'import prometheus_client.openmetrics.parser']),
  },
  // An engine that answers already will do, with its own programs.
  { name: 'dockerd', packages: ['docker.io'], without: 'the tests with containers', isThere: () => hasProgram('dockerd') || existsSync('/var/run/docker.sock') },
  { name: 'docker', packages: ['docker-cli'], without: 'the tests of the compose file' },
  { name: 'busybox', packages: ['busybox-static'], without: 'the tests with containers, where no images can be pulled,' },
  { name: 'docker compose', packages: [], install: fetchComposePlugin, isThere: composeIsThere, without: 'the tests of the compose file' },
  // Debian has Python's venv in a package of its own.
  { name: 'python3 with venv', packages: ['python3', 'python3-venv'], without: 'the fuzzing of the API', isThere: () => succeeds('python3', ['-c', 'import venv, ensurepip']) },
];

function isThere(part) {
  return part.isThere?.() ?? hasProgram(part.name);
}

function succeeds(command, args) {
  return spawnSync(command, args, { stdio: 'ignore' }).status === 0;
}

const folders = [...(process.env['PATH'] ?? '').split(delimiter), '/usr/sbin', '/usr/local/sbin'];

function hasProgram(program) {
  return folders.some((folder) => {
    try {
      accessSync(join(folder, program), constants.X_OK);
      return true;
    } catch {
      return false;
    }
  });
}

/** Installs what is missing, where that is possible. Answers what the tests have to go without, in words. */
export function systemParts(say) {
  const missing = parts.filter((part) => !isThere(part));
  if (missing.length > 0) {
    const reason = whyNotInstalled();
    if (reason === null) installPackagesOf(missing, say);
    else say(`missing and not installed, because ${reason}: ${missing.map((part) => part.name).join(', ')}`);
  }
  return parts.filter((part) => part.without !== null && !isThere(part)).map((part) => `no ${part.name}: ${part.without} will be skipped`);
}

/**
 * The checker of alert rules is one program out of a package that would start a server of its own: it is taken out and
 * put where the tests look for it.
 */
export function rulesChecker(root, say) {
  const folder = join(root, '.cache', 'rules-checker');
  const program = join(folder, 'usr', 'bin', 'promtool');
  if (existsSync(program) || hasProgram('promtool') || whyNotInstalled() !== null) return;
  mkdirSync(folder, { recursive: true });
  say('apt-get download prometheus (for the checker of alert rules)');
  const quietly = { stdio: 'ignore', cwd: folder };
  if (spawnSync('apt-get', ['-q', 'download', 'prometheus'], quietly).status !== 0) return;
  for (const file of readdirSync(folder).filter((name) => name.endsWith('.deb'))) {
    spawnSync('dpkg', ['-x', file, folder], quietly);
    rmSync(join(folder, file));
  }
  // Only the one program of it is used.
  rmSync(join(folder, 'usr', 'bin', 'prometheus'), { force: true });
}

function whyNotInstalled() {
  if (process.getuid?.() !== 0) return 'only root may install';
  if (!existsSync('/usr/bin/apt-get') || !/^ID(_LIKE)?=.*\b(debian|ubuntu)\b/m.test(osRelease())) return 'this is no Debian or Ubuntu';
  return null;
}

function osRelease() {
  return existsSync('/etc/os-release') ? readFileSync('/etc/os-release', 'utf8') : '';
}

function installPackagesOf(missing, say) {
  if (!aptGet(['update'], say)) say('apt-get update failed; trying with the lists that are there');
  // One by one, so that an unavailable package does not keep back the others.
  for (const part of missing) {
    // One that came with another's package.
    if (isThere(part)) continue;
    if (part.install !== undefined) part.install((args) => aptGet(args, say), say);
    else if (!aptGet(['install', '--yes', '--no-install-recommends', ...part.packages], say)) say(`${part.packages.join(' ')} could not be installed`);
    else if (part.name === 'mosquitto') stopBrokerService();
  }
}

function aptGet(args, say) {
  say(`apt-get ${args.join(' ')}`);
  const { status } = spawnSync('apt-get', ['-o', 'DPkg::Lock::Timeout=300', '-q', ...args], {
    stdio: ['ignore', 'ignore', 'inherit'],
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  });
  return status === 0;
}

/** The package starts a broker on the port of the embedded one; the tests start their own. */
function stopBrokerService() {
  const quietly = { stdio: 'ignore' };
  if (existsSync('/run/systemd/system')) spawnSync('systemctl', ['disable', '--now', 'mosquitto'], quietly);
  else {
    spawnSync('service', ['mosquitto', 'stop'], quietly);
    spawnSync('update-rc.d', ['mosquitto', 'disable'], quietly);
  }
}
