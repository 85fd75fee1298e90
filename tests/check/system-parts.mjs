import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync, readFileSync } from 'node:fs';
import { delimiter, join } from 'node:path';

/** Programs that some tests use beside Node, the Debian package each is in, and what is not tested without it. */
const parts = [
  { program: 'mosquitto', package: 'mosquitto', without: 'the tests against an outside broker' },
  { program: 'mosquitto_pub', package: 'mosquitto-clients', without: 'the tests with another client' },
  { program: 'chromium', package: 'chromium', without: 'the tests of the pages in a browser' },
  { program: 'strace', package: 'strace', without: 'the tests that make system calls fail' },
];

const folders = [...(process.env['PATH'] ?? '').split(delimiter), '/usr/sbin', '/usr/local/sbin'];

export function hasProgram(program) {
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
  const missing = parts.filter((part) => !hasProgram(part.program));
  if (missing.length > 0) {
    const reason = whyNotInstalled();
    if (reason === null) installPackagesOf(missing, say);
    else say(`missing and not installed, because ${reason}: ${missing.map((part) => part.package).join(', ')}`);
  }
  return parts.filter((part) => !hasProgram(part.program)).map((part) => `${part.program} is missing: ${part.without} are skipped`);
}

/** What compiles a package for which there is no binary: Debian's names. */
export function installCompiler(say) {
  if (whyNotInstalled() !== null) return false;
  return aptGet(['update'], say) && aptGet(['install', '--yes', '--no-install-recommends', 'python3', 'make', 'g++'], say);
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
  // One by one, so that a package that is not to be had keeps back none of the others.
  for (const part of missing) {
    if (!aptGet(['install', '--yes', '--no-install-recommends', part.package], say)) say(`${part.package} could not be installed`);
    else if (part.package === 'mosquitto') stopBrokerService();
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
