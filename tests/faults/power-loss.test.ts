import { describe, expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { seededRandom } from '../model/seeded-random.js';
import { noFailingFiles } from './failing-files.js';
import { shown, underSeed, seedFrom } from './outcome.js';
import { plainDisk } from './plain-disk.js';
import { judgeImages, powerLoss } from './power-loss-scenario.js';
import { recordLoad } from './recorded-load.js';

const images = countFrom('IMAGES', { soon: 12, full: 100 });
const reason = noFailingFiles();
if (reason !== null) console.log(`left out, power loss: ${reason}`);

describe('the disk that loses power', () => {
  const folder = '/d';
  const write = (text: string, offset = 0) => ({ kind: 'write', path: '/d/f', offset, bytes: Buffer.from(text) }) as const;
  const seen = (...calls: Parameters<ReturnType<typeof plainDisk>['apply']>[0][]): Set<string> => {
    const disk = plainDisk({ folder });
    for (const call of calls) disk.apply(call);
    const random = seededRandom(1);
    return new Set(Array.from({ length: 400 }, () => disk.powerFails(random).get('/d/f')?.toString('latin1') ?? 'no file'));
  };
  const synced = [{ kind: 'sync', path: '/d/f' }, { kind: 'sync', path: folder }] as const;

  it('keeps what was synced, under a synced name, whatever else it loses', () => {
    expect(seen(write('abc'), ...synced)).toEqual(new Set(['abc']));
    expect(seen(write('abc'), ...synced, write('XY', 1))).toEqual(new Set(['abc', 'aXY']));
  });

  it('may lose the name or the content where one of the two was not synced', () => {
    expect(seen(write('abc'), synced[0])).toEqual(new Set(['abc', 'no file']));
    expect(seen(write('abc'), synced[1])).toEqual(new Set(['', 'abc']));
  });

  it('writes later changes before earlier ones, and parts of one', () => {
    const both = seen(...synced, write('abc'), ...synced, write('1'), write('2', 2));
    expect(both).toEqual(new Set(['abc', '1bc', 'ab2', '1b2']));
    const torn = seen(write('-'.repeat(1024)), ...synced, write('+'.repeat(1024)));
    expect(torn).toContain('-'.repeat(512) + '+'.repeat(512));
    expect(torn).toContain('+'.repeat(512) + '-'.repeat(512));
  });

  it('keeps a file, or has lost it, once it is removed', () => {
    expect(seen(write('abc'), ...synced, { kind: 'remove', path: '/d/f' })).toEqual(new Set(['abc', 'no file']));
    expect(seen(write('abc'), ...synced, { kind: 'remove', path: '/d/f' }, synced[1])).toEqual(new Set(['no file']));
  });
});

it.skipIf(reason !== null)(`has everything it acknowledged after a loss of power (${images} images)`, { timeout: 300_000 + images * 3_000 }, async () => {
  const outcome = await underSeed((seed) => powerLoss(images, seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});

it.skipIf(reason !== null)('sees what is lost on a disk that lies about syncing the log', async () => {
  const seed = seedFrom();
  const { problems } = await judgeImages(await recordLoad(300, seed), { images: 20, lies: (path) => path.endsWith('-wal') }, seed);
  expect(problems.filter((line) => line.startsWith('lost: ')).length, `SEED=${seed}`).toBeGreaterThan(0);
});
