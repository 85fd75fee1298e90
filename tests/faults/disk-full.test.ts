import { describe, expect, it } from 'vitest';
import { countFrom, isFull } from '../counts.js';
import { noFailingFiles } from './failing-files.js';
import { noSmallDisk } from './full-disk.js';
import { shown, underSeed } from './outcome.js';
import { failingStorage, fullDisk } from './storage-scenarios.js';

const noDisk = noSmallDisk();
const noFailing = noFailingFiles();
if (noDisk !== null) console.log(`left out, disk full: ${noDisk}`);
if (noFailing !== null) console.log(`left out, failing writes: ${noFailing}`);

// Most of either is waiting.
describe.concurrent('a disk that takes no writes', () => {
  it.skipIf(noDisk !== null)('acknowledges nothing on a full disk, and goes on by itself', async () => {
    const outcome = await underSeed((seed) => fullDisk(countFrom('FULL_DISKS', { soon: 1, full: 2 }), seed));
    expect(outcome.problems, shown(outcome)).toEqual([]);
  });

  it.skipIf(noFailing !== null).each([0, 8])('gets over failing writes and syncs by itself, where syncs take %i ms longer', async (slowSyncMs) => {
    const outcome = await underSeed((seed) => failingStorage({ writesTo: 100, writesStep: isFull ? 5 : 20, syncs: isFull ? 5 : 2, slowSyncMs }, seed));
    expect(outcome.problems, shown(outcome)).toEqual([]);
  });
});
