import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { openSqlite } from '../../shared/sqlite/sqlite-file.js';
import { seededRandom, type Random } from '../model/seeded-random.js';
import { awaitMark, expectedMark, healthOf } from './ask-service.js';
import { judgedSite } from './endless-carriage.js';
import { checkKept, keptItems } from './kept-items.js';
import type { Outcome } from './outcome.js';
import { plainDisk } from './plain-disk.js';
import { pubackReader, recordLoad, type RecordedLoad } from './recorded-load.js';
import { scratchDir, startProcess } from './service-process.js';

/** Messages in one record: long enough for several checkpoints of the log (1,000 pages of 16 KiB) and the orderly end. */
const messagesInRecord = 2_500;
/** How many images there are for each one that the service itself starts from. */
const servedEvery = 25;

export interface PowerLossOptions {
  readonly images: number;
  /** A disk that answers syncs of these files without doing them. */
  readonly lies?: (path: string) => boolean;
}

interface Found {
  readonly problems: string[];
  /** Items acknowledged before the cuts, all images together; images with something unsynced; images that the service took up. */
  acknowledged: number;
  served: number;
}

/** Records a service under load, lets the power fail at many of its calls, and looks at what a disk may have left each time. */
export async function powerLoss(images: number, seed: number): Promise<Outcome> {
  const load = await recordLoad(messagesInRecord, seed);
  const { problems, acknowledged, served } = await judgeImages(load, { images }, seed);
  const synced = load.calls.flatMap((call) => (call.kind === 'sync' ? [call.path] : []));
  const checkpoints = synced.filter((path) => path.endsWith('seamwarden.db')).length;
  const counted = `${images} images out of ${load.calls.length} calls with ${synced.length} syncs (${checkpoints} of the database itself), ${acknowledged} acknowledged items looked for, ${served} images taken up by the service`;
  return { scenario: 'power loss', seed, counted, problems };
}

/** After which calls the power fails: with a PUBACK just out, about a sync, while the log is written back into the database, or anywhere. */
function cutsOf({ calls }: RecordedLoad, images: number, random: Random): number[] {
  const read = pubackReader();
  const acknowledging = calls.flatMap((call, at) => (call.kind === 'send' && read(call.path, call.bytes).length > 0 ? [at] : []));
  const syncing = calls.flatMap(({ kind }, at) => (kind === 'sync' ? [at - 1, at] : []));
  const writingBack = calls.flatMap((call, at) => (call.kind === 'write' && call.path.endsWith('seamwarden.db') ? [at] : []));
  const anywhere = calls.map((_call, at) => at);
  const cuts = Array.from({ length: images }, () => random.pick(random.pick([acknowledging, acknowledging, syncing, writingBack, anywhere])));
  return cuts.sort((a, b) => a - b);
}

export async function judgeImages(load: RecordedLoad, { images, lies = () => false }: PowerLossOptions, seed: number): Promise<Found> {
  const random = seededRandom(seed ^ 0x5eed);
  const cuts = cutsOf(load, images, random);
  const disk = plainDisk({ folder: load.dataDir, without: [/-shm$/, /\/lock/], lies });
  const read = pubackReader();
  const everSent = new Map([...load.items.values()].flatMap((items) => [...items]));
  const acknowledged = new Map<string, string>();
  const found: Found = { problems: [], acknowledged: 0, served: 0 };
  const dir = scratchDir();
  try {
    let done = 0;
    for (let image = 0; image < cuts.length; image += 1) {
      const cut = cuts[image] ?? 0;
      for (; done <= cut; done += 1) {
        const call = load.calls[done];
        if (call === undefined) break;
        if (call.kind === 'send') for (const id of read(call.path, call.bytes)) for (const [key, json] of load.items.get(id) ?? []) acknowledged.set(key, json);
        else disk.apply(call);
      }
      const folder = join(dir.path, `image-${image}`);
      mkdirSync(folder);
      for (const [path, bytes] of disk.powerFails(random)) writeFileSync(join(folder, basename(path)), bytes);
      const wrong = checkImage(folder, acknowledged, everSent);
      if (wrong.length === 0 && image % servedEvery === servedEvery - 1) {
        found.served += 1;
        wrong.push(...(await serveImage(folder)));
      }
      found.acknowledged += acknowledged.size;
      found.problems.push(...wrong.map((line) => line.replace(/^(\w+: )?/, `$1image ${image} after call ${cut}: `)));
      rmSync(folder, { recursive: true });
    }
    return found;
  } finally {
    dir.remove();
  }
}

/** What is wrong with a database, opened with nothing of the service's code: its pages, its references, the items it keeps. */
function checkImage(folder: string, acknowledged: ReadonlyMap<string, string>, everSent: ReadonlyMap<string, string>): string[] {
  const lost = (why: string): string[] => [...acknowledged.keys()].map((key) => `lost: ${key} was acknowledged, and ${why}`);
  let db;
  try {
    // It may write: taking up the log is what the next start does first.
    db = openSqlite(join(folder, 'seamwarden.db'));
    const sound: unknown = db.pragma('integrity_check', { simple: true });
    if (sound !== 'ok') return [`the database is damaged: ${String(sound).slice(0, 300)}`];
    const dangling = db.pragma('foreign_key_check') as unknown[];
    if (dangling.length > 0) return [`${dangling.length} rows refer to what is not there`];
    if (db.prepare("select 1 from sqlite_master where name = 'kept'").get() === undefined) return lost('there is no table of kept messages');
    const kept = keptItems(folder, judgedSite);
    return [...checkKept(kept, acknowledged), ...[...kept.keys()].filter((key) => !everSent.has(key)).map((key) => `${key} is kept and was never sent`)];
  } catch (error) {
    return [`the database cannot be opened: ${error instanceof Error ? error.message : String(error)}`, ...lost('the database cannot be opened')];
  } finally {
    db?.close();
  }
}

/** Lets the service take up an image: it must be well, and its marks must say what the kept items say. */
async function serveImage(folder: string): Promise<string[]> {
  const service = startProcess({ dataDir: folder });
  try {
    const { http, mqtt } = await service.listening;
    const { status, detail } = await healthOf(http);
    const problems = status === 200 ? [] : [`health answers ${status}: ${detail}`];
    const seqs = new Map<string, number[]>();
    for (const [key, [json]] of keptItems(folder, judgedSite)) {
      const carriage = key.slice(judgedSite.length + 1, key.indexOf(' '));
      seqs.set(carriage, [...(seqs.get(carriage) ?? []), (JSON.parse(json ?? '') as { seq: number }).seq]);
    }
    for (const [carriage, own] of seqs) {
      await awaitMark(mqtt, judgedSite, carriage, [expectedMark('b1', own)]).catch((error: unknown) => problems.push(`mark: ${String(error)}`));
    }
    if (service.stderr().includes('"level":50')) problems.push(`logged: ${service.stderr().slice(0, 1_000)}`);
    return problems;
  } catch (error) {
    return [`the service does not start on it: ${error instanceof Error ? error.message : String(error)}`];
  } finally {
    await service.kill('SIGKILL');
  }
}
