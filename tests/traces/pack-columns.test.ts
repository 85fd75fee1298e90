import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unpackArcColumns, unpackRunColumns } from '../../shared/traces/pack-columns.js';
import { arcColumns, runColumns } from '../../shared/weld/rows/row.js';
import { asBlocks, asReadings, asReadingsWithTravel, foldedRows } from './folded-rows.js';
import { madeStands } from './made-rows.js';
import { laterColumns } from '../../shared/traces/later-columns.js';
import { packArcRows, packRunRows, unpackArcRows, unpackRunRows } from './packed-rows.js';
import before from './packed-format-1.json' with { type: 'json' };

const start = 1_700_000_000_037_000;
const stands = (more: Partial<Parameters<typeof madeStands>[0]> = {}): ReturnType<typeof madeStands> =>
  madeStands({ count: 1200, start, interval: 100_000, jitter: 3, seed: 2, ...more });
const rows = foldedRows(asReadings(stands()));

/** Values that do not fit what is expected of a row, near ones and far ones. */
const odd = fc.oneof(
  fc.double(),
  fc.constantFrom(Number.NaN, -0, 0, Infinity, -Infinity, Number.MIN_VALUE, -Number.MIN_VALUE, Number.MAX_VALUE, 2 ** 51, -(2 ** 51), 2 ** 53 - 1, 600.1, 30),
  fc.integer().map((n) => n / 10),
  fc.integer({ min: 0, max: 9 }).map((n) => 0.1 + n * 2 ** -55),
);

function changed<Name extends string>(from: readonly Readonly<Record<Name, number>>[], changes: readonly [number, Name, number][]): Record<Name, number>[] {
  const copy = from.map((row) => ({ ...row }));
  for (const [row, name, value] of changes) {
    const found: Record<Name, number> | undefined = copy[row % copy.length];
    if (found !== undefined) found[name] = value;
  }
  return copy;
}

describe('packed rows', () => {
  const stretch = fc.tuple(fc.nat(500), fc.integer({ min: 1, max: 600 }));
  const changes = <Name extends string>(names: readonly Name[]): fc.Arbitrary<[number, Name, number][]> =>
    fc.array(fc.tuple(fc.nat(599), fc.constantFrom(...names), odd), { maxLength: 30 });

  it('come back to the last bit, whatever values occur among rows of a weld', () => {
    fc.assert(
      fc.property(stretch, changes(arcColumns), changes(runColumns), ([from, count], arcChanges, runChanges) => {
        const arc = changed(rows.arc.slice(from, from + count), arcChanges);
        expect(unpackArcRows(packArcRows(arc))).toEqual(arc);
        const run = changed(rows.run.slice(from, from + count), runChanges);
        expect(unpackRunRows(packRunRows(run))).toEqual(run);
      }),
      { numRuns: 200 },
    );
  });

  it('give some columns as they give all of them', () => {
    const some = <Name extends string>(names: readonly Name[]): fc.Arbitrary<Name[]> => fc.uniqueArray(fc.constantFrom(...names), { maxLength: 3 });
    fc.assert(
      fc.property(stretch, changes(arcColumns), changes(runColumns), some(arcColumns), some(runColumns), ([from, count], arcChanges, runChanges, arcNames, runNames) => {
        const arc = changed(rows.arc.slice(from, from + count), arcChanges);
        for (const name of arcNames) expect([...unpackArcColumns(packArcRows(arc), arcNames).columns[name]]).toEqual(arc.map((row) => row[name]));
        const run = changed(rows.run.slice(from, from + count), runChanges);
        for (const name of runNames) expect([...unpackRunColumns(packRunRows(run), runNames).columns[name]]).toEqual(run.map((row) => row[name]));
      }),
      { numRuns: 200 },
    );
  });

  it('are read as well in the format before this one', () => {
    // What that program packed of these rows.
    const { arc, run } = foldedRows(asReadings(stands({ count: 120, interval: 50_000 })));
    const blob = (base64: string): Buffer => Buffer.from(base64, 'base64');
    expect(blob(before.arc)[0]).toBe(1);
    // What rows of that format do not tell.
    const since = Object.fromEntries(laterColumns);
    expect(unpackArcRows(blob(before.arc))).toEqual(arc.map((row) => ({ ...row, ...since })));
    expect(unpackRunRows(blob(before.run))).toEqual(run);
    expect(() => unpackArcRows(Buffer.concat([Buffer.of(3), blob(before.arc).subarray(1)]))).toThrow('packed rows of format 3 cannot be read, only formats 1, 2, 4, 12');
  });

  it('are refused when any bit of them is flipped', () => {
    const { arc, run } = foldedRows(asReadings(stands({ count: 120, interval: 50_000 })));
    for (const [packed, unpacked] of [[packArcRows(arc), unpackArcRows], [packRunRows(run), unpackRunRows]] as const) {
      for (let bit = 0; bit < 8 * packed.length; bit += 1) {
        const damaged = Buffer.from(packed);
        damaged.writeUInt8(damaged.readUInt8(bit >> 3) ^ (1 << (bit & 7)), bit >> 3);
        expect(() => { unpacked(damaged); }, `bit ${bit}`).toThrow(/damaged|cannot be read/);
      }
    }
  });

  // Arc and run row together, as the goal is set.
  it.each([
    ['readings on the grid', () => foldedRows(asReadings(stands({ start: 1_700_000_000_000_000, jitter: 0 })))],
    ['readings beside it', () => rows],
    ['readings just before it', () => foldedRows(asReadings(stands({ start: 1_700_000_000_099_000 })))],
    ['one reading a second', () => foldedRows(asReadings(stands({ count: 120, interval: 1_000_000 })))],
    ['twenty readings a second', () => foldedRows(asReadings(stands({ count: 2400, interval: 50_000 })))],
    ['an encoder’s travel', () => foldedRows(asReadingsWithTravel(stands()))],
    ['blocks at 1 kHz', () => foldedRows(asBlocks(stands({ count: 120_000, interval: 1000, jitter: 0 }), 100))],
  ])('take 32 bytes at most: %s', (_, make) => {
    const { arc, run } = make();
    const packed = [packArcRows(arc.slice(300, 900)), packRunRows(run.slice(300, 900))] as const;
    expect(unpackArcRows(packed[0])).toEqual(arc.slice(300, 900));
    expect(unpackRunRows(packed[1])).toEqual(run.slice(300, 900));
    expect((packed[0].length + packed[1].length) / 600).toBeLessThan(32);
  });
});
