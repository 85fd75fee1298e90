import { beforeEach, describe, expect, it } from 'vitest';
import { emptyChangeSet } from '../../shared/records/change-set.js';
import { writerBySync } from '../../services/ingest/store/quicker-writer.js';
import type { StoreWriter } from '../../services/ingest/store/store-writer.js';

/* The writers here only say who wrote, and syncs take as long as the test says. Services with slow syncs are killed in `tests/faults/kill.test.ts`. */

let wrote: string[] = [];
/** What the next sync takes, ms; null: the write fails. */
let sync: number | null = 0;

function saying(name: string): StoreWriter {
  return {
    begin: () => {
      wrote.push(name);
      const took = sync;
      return { isOver: () => true, outcome: () => (took === null ? new Error('the disk is full') : null), synced: () => (took === null ? null : took * 1e3) };
    },
    settle: () => void wrote.push(`${name} settled`),
    close: () => {
      wrote.push(`${name} closed`);
      return Promise.resolve();
    },
  };
}

let writer: StoreWriter;

/** Who writes each of so many commits, whose syncs take as many ms. */
function commits(count: number, ms: number | null): string[] {
  sync = ms;
  wrote = [];
  for (let k = 0; k < count; k += 1) writer.begin(emptyChangeSet(), () => undefined);
  return wrote;
}

const all = (count: number, name: string): string[] => Array.from({ length: count }, () => name);

beforeEach(() => {
  wrote = [];
  writer = writerBySync(saying('here'), saying('beside'));
});

describe('A writer that goes by how long the disk takes', () => {
  it('begins on the thread that computes', () => {
    expect(commits(1, 100)).toEqual(['here']);
  });

  it('stays there while syncs are quick, and does not mind a slow one now and then', () => {
    commits(20, 0.5);
    for (let k = 0; k < 5; k += 1) {
      expect(commits(4, 80)).toEqual(all(4, 'here'));
      expect(commits(20, 0.5)).toEqual(all(20, 'here'));
    }
  });

  it('hands over once most of the last nine syncs were slow, and takes back once most are quick', () => {
    commits(20, 0.5);
    expect(commits(20, 10)).toEqual([...all(5, 'here'), ...all(15, 'beside')]);
    expect(commits(20, 0.5)).toEqual([...all(5, 'beside'), ...all(15, 'here')]);
  });

  it('learns nothing from a write that failed', () => {
    commits(20, 0.5);
    expect(commits(50, null)).toEqual(all(50, 'here'));
    expect(commits(5, 10)).toEqual(all(5, 'here'));
    expect(commits(1, null)).toEqual(['beside']);
  });

  it('waits for what is written beside, and closes both', async () => {
    writer.settle();
    expect(wrote).toEqual(['beside settled']);
    wrote = [];
    await writer.close();
    expect(wrote).toEqual(['here closed', 'beside closed']);
  });
});
