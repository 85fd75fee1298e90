import { execFileSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { GenericContainer } from 'testcontainers';
import { program } from '../faults/service-process.js';
import type { Engine } from './container-engine.js';
import { madeBroker, madeService, publicBroker, root } from './image-names.js';
import { fillRoot, libraries } from './root-folder.js';

export interface Images {
  readonly broker: string;
  readonly service: string;
}

const publicService = 'seamwarden-tests/service:built';

/** The images of broker and service: as published and as the Dockerfile builds them, or made of what is on this machine. */
export async function containerImages({ images }: Engine): Promise<Images> {
  if (images === 'public') {
    await GenericContainer.fromDockerfile(root).build(publicService, { deleteOnExit: false });
    return { broker: publicBroker(), service: publicService };
  }
  await Promise.all([makeBroker(), makeService()]);
  return { broker: madeBroker, service: madeService };
}

async function inFolder(make: (folder: string) => Promise<unknown>): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'image-'));
  try {
    await make(folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** As the published one: the user, his folders, the programs. */
function makeBroker(): Promise<void> {
  return inFolder((folder) => {
    fillRoot(join(folder, 'root'), ['/usr/sbin/mosquitto', '/usr/bin/mosquitto_passwd', '/usr/bin/mosquitto_sub'], { name: 'mosquitto', id: 1883 });
    const lines = ['FROM scratch', 'COPY root/ /', 'RUN mkdir -p /mosquitto/data /mosquitto/log /mosquitto/config && chown -R mosquitto:mosquitto /mosquitto && chmod 1777 /tmp', 'VOLUME /mosquitto/data'];
    writeFileSync(join(folder, 'Dockerfile'), `${lines.join('\n')}\n`);
    return GenericContainer.fromDockerfile(folder).build(madeBroker, { deleteOnExit: false });
  });
}

/**
 * The last stage of our Dockerfile, line by line, on this machine's Node; the built program and the packages are those that
 * are here, where it copies what its first stage made.
 */
function makeService(): Promise<void> {
  return inFolder((folder) => {
    fillRoot(join(folder, 'node'), [process.execPath], { name: 'node', id: 1000 });
    const addon = join(root, `node_modules/@photostructure/sqlite/prebuilds/linux-${process.arch}/@photostructure+sqlite.glibc.node`);
    for (const library of libraries(addon)) cpSync(library, join(folder, 'node', library), { dereference: true });
    const app = join(folder, 'app');
    for (const path of productionPackages()) cpSync(join(root, path), join(app, path), { recursive: true, filter: isRun });
    cpSync(builtFolder(), join(app, 'dist'), { recursive: true });
    // As one file each, because the builder takes its time over every single one.
    for (const name of ['node_modules', 'dist']) execFileSync('tar', ['-cf', join(folder, `${name}.tar`), '-C', join(app, name), '.']);
    rmSync(app, { recursive: true });
    cpSync(join(root, 'package.json'), join(folder, 'package.json'));
    writeFileSync(join(folder, 'Dockerfile'), ['FROM scratch', 'COPY node/ /', 'RUN chmod 1777 /tmp', lastStage()].join('\n'));
    return GenericContainer.fromDockerfile(folder).build(madeService, { deleteOnExit: false });
  });
}

function lastStage(): string {
  const [, lines] = readFileSync(join(root, 'Dockerfile'), 'utf8').split(/^FROM node:\S+-slim$/m);
  if (lines === undefined) throw new Error('the Dockerfile has no last stage on a slim image of Node');
  return lines.replaceAll(/^COPY --from=build \/app\/(node_modules|dist) (\S+)$/gm, 'ADD $1.tar $2/').replace('COPY --from=build /app/package.json', 'COPY package.json');
}

/** The builder takes its time over each file, so what is never loaded stays out: types, sources, texts. */
function isRun(path: string): boolean {
  return !/\.([cm]?ts|map|md|txt|c|h|cpp|o|a)$|\/node_modules\/(@types|@photostructure\/sqlite\/src|[^/]+\/(docs?|tests?|examples?))(\/|$)/.test(path);
}

function builtFolder(): string {
  const folder = dirname(dirname(program));
  if (!existsSync(program)) throw new Error(`no ${program}; run "npm run build" first`);
  return folder;
}

/** Top folders of the packages that `npm prune --omit=dev` would leave, by the lock file. */
function productionPackages(): string[] {
  const { packages } = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')) as { packages: Record<string, { dev?: boolean }> };
  return Object.entries(packages).flatMap(([path, { dev }]) => (/^node_modules\/(@[^/]+\/)?[^/]+$/.test(path) && dev !== true ? [path] : []));
}
