import { spawnSync } from 'node:child_process';
import { copyFileSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** A folder for `DOCKER_CONFIG` with the compose plugin, if the system has none. The tests of the compose file look here too. */
const folder = fileURLToPath(new URL('../../.cache/docker-config', import.meta.url));
const plugin = join(folder, 'cli-plugins/docker-compose');

export function composeIsThere() {
  return existsSync(plugin) || spawnSync('docker', ['compose', 'version'], { stdio: 'ignore' }).status === 0;
}

/**
 * Installs the compose plugin: Ubuntu's package, Debian's from 13 on, or, on an older Debian, whose package of that name is another
 * program, the plugin alone out of the newer package, put into `.cache`.
 */
export function fetchComposePlugin(aptGet, say) {
  for (const name of ['docker-compose-v2', 'docker-compose']) {
    if (/^Candidate: (?!1\.)\d/m.test(candidateOf(name))) {
      aptGet(['install', '--yes', '--no-install-recommends', name]);
      return;
    }
  }
  if (!/^ID=debian$/m.test(readFileSync('/etc/os-release', 'utf8'))) return;
  const scratch = mkdtempSync(join(tmpdir(), 'compose-plugin-'));
  try {
    unpackFromNewer(scratch, aptGet);
  } catch (error) {
    say(`the compose plugin could not be fetched: ${error.message}`);
  } finally {
    rmSync(scratch, { recursive: true });
  }
}

function candidateOf(name) {
  return spawnSync('apt-cache', ['policy', name], { encoding: 'utf8' }).stdout?.replaceAll(/^ +/gm, '') ?? '';
}

/** With lists of its own, so that the system's know nothing of the newer release. */
function unpackFromNewer(scratch, aptGet) {
  const path = (name) => join(scratch, name);
  for (const name of ['lists/partial', 'archives/partial', 'unpacked']) mkdirSync(path(name), { recursive: true });
  // Where the system itself gets its packages.
  const source = /^\d+ (https?:\S+) \S+\/main /m.exec(candidateOf('docker-compose'))?.[1];
  if (source === undefined) throw new Error('there is no source of packages');
  writeFileSync(path('sources.list'), `deb ${source} trixie main\n`);
  const own = [
    '-o', `Dir::Etc::sourcelist=${path('sources.list')}`, '-o', 'Dir::Etc::sourceparts=-', '-o', `Dir::State::lists=${path('lists')}`,
    '-o', `Dir::Cache::archives=${path('archives')}`, '-o', 'Dir::Cache::pkgcache=', '-o', 'Dir::Cache::srcpkgcache=', '-o', 'APT::Sandbox::User=root',
  ];
  // Downloaded, checked against Debian's keys, and never installed.
  for (const args of [['update'], ['install', '--yes', '--download-only', '--no-install-recommends', 'docker-compose']]) {
    if (!aptGet([...own, ...args])) throw new Error(`apt-get ${args[0]} failed`);
  }
  const archive = readdirSync(path('archives')).find((name) => /^docker-compose_.*\.deb$/.test(name));
  if (archive === undefined) throw new Error('apt-get brought no package');
  spawnSync('dpkg-deb', ['-x', join(path('archives'), archive), path('unpacked')]);
  mkdirSync(join(folder, 'cli-plugins'), { recursive: true });
  copyFileSync(join(path('unpacked'), 'usr/libexec/docker/cli-plugins/docker-compose'), plugin);
}
