import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import fc from 'fast-check';
import { arcColumns, runColumns } from '../../shared/weld/rows/row.js';
import { madeRows, madeStands } from './made-rows.js';
import { traceColumnsContract } from './trace-columns-contract.js';
import type { TraceEngine } from './trace-engine.js';
import { arcNumbers, readArc, readRun, runNumbers } from '../named-rows.js';
import type { ArcRow, RunRow } from '../named-rows.js';

const made = [...madeRows(madeStands({ count: 2000, start: 1_700_000_000_037_000, interval: 100_000, jitter: 3, seed: 7 }))];
const arcRows = made.map((row) => row.arc);
const runRows = made.map((row) => row.run);
const first = arcRows[0]?.index ?? 0;
/** Row of the given number counted from the first one, as an index. */
const place = (row: number): number => first + row;

const special = [Number.NaN, -0, 0, Infinity, -Infinity, Number.MIN_VALUE, -Number.MIN_VALUE, Number.MAX_VALUE, Number.EPSILON, 0.1, 0.3, 1 / 3, 2 ** 53, -(2 ** 53), 2 ** 53 - 1];
const anyNumber = fc.oneof(fc.double(), fc.constantFrom(...special), fc.integer().map((n) => n / 10), fc.integer({ min: 0, max: 9 }).map((n) => 0.1 + n * 2 ** -55));

function anyRows<Name extends string>(names: readonly Name[]): fc.Arbitrary<Readonly<Record<Name, number>>[]> {
  const values = fc.array(anyNumber, { minLength: names.length, maxLength: names.length });
  return fc.array(values, { minLength: 1, maxLength: 40 }).map((rows) =>
    rows.map((row, number) => Object.fromEntries(names.map((name, at) => [name, name === 'index' ? number * 3 + 5 : row[at]])) as Record<Name, number>));
}

/** What every engine that stores traces must do. vitest's toEqual tells −0 from 0 and takes NaN for NaN, as Object.is does. */
export function traceStoreContract(name: string, open: () => TraceEngine): void {
  traceColumnsContract(name, open);
  describe(`trace store: ${name}`, () => {
    let engine: TraceEngine;
    beforeEach(() => {
      engine = open();
    });
    afterEach(() => {
      engine.dispose();
    });

    const append = (rows: readonly ArcRow[], run = 'r1', arc = 1): void => {
      engine.commit(() => {
        engine.store.appendArc(run, arc, arcNumbers(rows));
      });
    };
    const appendSingly = (rows: readonly ArcRow[], run = 'r1', arc = 1): void => {
      engine.commit(() => {
        for (const row of rows) engine.store.appendArc(run, arc, arcNumbers([row]));
      });
    };
    const read = (run = 'r1', arc = 1, from?: number, to?: number): ArcRow[] => readArc(engine.reader, run, arc, from, to);
    const cut = (index: number): void => {
      engine.commit(() => {
        engine.store.cut('r1', index);
      });
    };

    const forget = (): void => {
      engine.commit(() => {
        engine.store.remove('r1');
      });
    };

    it('has nothing of a run it never saw', () => {
      expect(engine.reader.arcs('r1')).toEqual([]);
      expect(read()).toEqual([]);
      expect(readRun(engine.reader, 'r1')).toEqual([]);
      expect(engine.reader.extent('r1')).toBeNull();
    });

    it.each([1, 5, 599, 600, 601, 1200, 1999])('gives back %i rows appended at once', (count) => {
      append(arcRows.slice(0, count));
      expect(read()).toEqual(arcRows.slice(0, count));
      expect(engine.reader.extent('r1')).toEqual({ rows: count, first, last: place(count - 1) });
    });

    it('gives back rows appended one by one, over the border of what it packs', () => {
      appendSingly(arcRows.slice(0, 1300));
      expect(read()).toEqual(arcRows.slice(0, 1300));
    });

    it('appends nothing where there are no rows', () => {
      append([]);
      expect(engine.reader.extent('r1')).toBeNull();
    });

    it.each([
      [0, 1], [0, 600], [599, 601], [600, 1200], [650, 655], [1190, 1300], [1399, 1500], [1400, 2000], [-50, 10], [5, 5],
    ])('reads a range from row %i to row %i', (from, to) => {
      appendSingly(arcRows.slice(0, 1400));
      expect(read('r1', 1, place(from), place(to))).toEqual(arcRows.slice(Math.max(0, from), Math.min(to, 1400)));
    });

    it('keeps runs, arcs and the run’s own rows apart', () => {
      engine.commit(() => {
        engine.store.appendArc('r1', 1, arcNumbers(arcRows.slice(0, 700)));
        engine.store.appendArc('r1', 3, arcNumbers(arcRows.slice(10, 20)));
        engine.store.appendRun('r1', runNumbers(runRows.slice(0, 710)));
        engine.store.appendArc('r2', 2, arcNumbers(arcRows.slice(0, 5)));
      });
      expect(engine.reader.arcs('r1')).toEqual([1, 3]);
      expect(engine.reader.arcs('r2')).toEqual([2]);
      expect(read('r1', 3)).toEqual(arcRows.slice(10, 20));
      expect(read('r1', 2)).toEqual([]);
      expect(readRun(engine.reader, 'r1')).toEqual(runRows.slice(0, 710));
      expect(readRun(engine.reader, 'r1', place(599), place(601))).toEqual(runRows.slice(599, 601));
      expect(readRun(engine.reader, 'r2')).toEqual([]);
      expect(engine.reader.extent('r1')).toEqual({ rows: 710, first, last: place(709) });
    });

    it('leaves holes in the index where rows are missing', () => {
      const holed = arcRows.slice(0, 1500).filter((_, row) => row % 100 < 70 && (row < 300 || row > 900));
      appendSingly(holed);
      expect(read()).toEqual(holed);
      expect(read('r1', 1, place(280), place(1010))).toEqual(holed.filter((row) => row.index >= place(280) && row.index < place(1010)));
    });

    it('refuses rows that are not behind those that are there, and keeps what it had', () => {
      append(arcRows.slice(0, 10));
      expect(() => {
        append(arcRows.slice(9, 12));
      }).toThrow(/r1.*arc 1.*order/);
      expect(() => {
        append([...arcRows.slice(12, 14), ...arcRows.slice(12, 13)]);
      }).toThrow(/order/);
      expect(() => {
        append(arcRows.slice(0, 1), 'r1', 0);
      }).toThrow(/whole number from 1/);
      expect(read()).toEqual(arcRows.slice(0, 10));
      append(arcRows.slice(10, 600));
      expect(() => {
        append(arcRows.slice(599, 600));
      }).toThrow(/order/);
      expect(read()).toEqual(arcRows.slice(0, 600));
    });

    it('shows the provisional rows behind the appended ones, and replaces them', () => {
      append(arcRows.slice(0, 100));
      const tail = (from: number, to: number): void => {
        engine.commit(() => {
          engine.store.setTail('r1', [{ arc: 1, rows: arcNumbers(arcRows.slice(from, to)) }], runNumbers(runRows.slice(from, to)));
        });
      };
      tail(100, 130);
      expect(read()).toEqual(arcRows.slice(0, 130));
      expect(readRun(engine.reader, 'r1')).toEqual(runRows.slice(100, 130));
      expect(engine.reader.extent('r1')).toEqual({ rows: 130, first, last: place(129) });
      tail(100, 110);
      expect(read()).toEqual(arcRows.slice(0, 110));
      append(arcRows.slice(100, 105));
      expect(read(), 'rows that have become final are not shown twice').toEqual(arcRows.slice(0, 110));
      expect(read('r1', 1, place(103), place(107))).toEqual(arcRows.slice(103, 107));
      expect(engine.reader.extent('r1')).toEqual({ rows: 110, first, last: place(109) });
      tail(105, 135);
      expect(read()).toEqual(arcRows.slice(0, 135));
      tail(0, 0);
      expect(read()).toEqual(arcRows.slice(0, 105));
      expect(readRun(engine.reader, 'r1')).toEqual([]);
    });

    it('shows a tail of which nothing is appended yet, and drops that of an arc which is not named', () => {
      engine.commit(() => {
        engine.store.setTail('r1', [{ arc: 1, rows: arcNumbers(arcRows.slice(0, 3)) }, { arc: 2, rows: arcNumbers(arcRows.slice(1, 3)) }], runNumbers([]));
        engine.store.setTail('r2', [{ arc: 1, rows: arcNumbers(arcRows.slice(0, 1)) }], runNumbers([]));
      });
      expect(engine.reader.arcs('r1')).toEqual([1, 2]);
      engine.commit(() => {
        engine.store.setTail('r1', [{ arc: 2, rows: arcNumbers(arcRows.slice(1, 4)) }], runNumbers([]));
      });
      expect(engine.reader.arcs('r1')).toEqual([2]);
      expect(read('r1', 2)).toEqual(arcRows.slice(1, 4));
      expect(read('r2')).toEqual(arcRows.slice(0, 1));
    });

    it.each([-10, 0, 1, 300, 599, 600, 601, 1199, 1200, 1201, 1250, 1299, 1300, 1310, 1320, 5000])('cuts at row %i', (row) => {
      append(arcRows.slice(0, 1290));
      appendSingly(arcRows.slice(1290, 1300));
      engine.commit(() => {
        engine.store.appendRun('r1', runNumbers(runRows.slice(0, 1300)));
        engine.store.setTail('r1', [{ arc: 1, rows: arcNumbers(arcRows.slice(1300, 1320)) }], runNumbers(runRows.slice(1300, 1320)));
      });
      cut(place(row));
      const left = Math.max(0, Math.min(row, 1320));
      expect(read()).toEqual(arcRows.slice(0, left));
      expect(readRun(engine.reader, 'r1')).toEqual(runRows.slice(0, left));
      engine.commit(() => {
        engine.store.setTail('r1', [], runNumbers([]));
      });
      const from = Math.min(left, 1300);
      append(arcRows.slice(from, 2000));
      expect(read(), 'goes on from the cut').toEqual(arcRows.slice(0, 2000));
    });

    it('packs what is left when a run is closed, and can be cut and gone on with afterwards', () => {
      appendSingly(arcRows.slice(0, 650));
      engine.commit(() => {
        engine.store.appendRun('r1', runNumbers(runRows.slice(0, 10)));
        engine.store.close('r1');
        engine.store.close('r1');
      });
      expect(read()).toEqual(arcRows.slice(0, 650));
      expect(readRun(engine.reader, 'r1')).toEqual(runRows.slice(0, 10));
      cut(place(640));
      append(arcRows.slice(640, 1400));
      engine.commit(() => {
        engine.store.close('r1');
      });
      expect(read()).toEqual(arcRows.slice(0, 1400));
    });

    it('removes one run and leaves the others', () => {
      engine.commit(() => {
        for (const run of ['r1', 'r2']) {
          engine.store.appendArc(run, 1, arcNumbers(arcRows.slice(0, 700)));
          engine.store.appendRun(run, runNumbers(runRows.slice(0, 700)));
          engine.store.setTail(run, [{ arc: 1, rows: arcNumbers(arcRows.slice(700, 703)) }], runNumbers([]));
        }
        engine.store.remove('r1');
      });
      expect(engine.reader.extent('r1')).toBeNull();
      expect(read('r1')).toEqual([]);
      expect(read('r2')).toEqual(arcRows.slice(0, 703));
    });

    it('gives back any number of an arc’s row to the last bit, plain and packed', () => {
      fc.assert(
        fc.property(anyRows<keyof ArcRow>(arcColumns), (rows) => {
          forget();
          append(rows);
          expect(read()).toEqual(rows);
          engine.commit(() => {
            engine.store.close('r1');
          });
          expect(read()).toEqual(rows);
        }),
        { numRuns: 150 },
      );
    });

    it('gives back any number of a run’s row to the last bit, plain and packed', () => {
      fc.assert(
        fc.property(anyRows<keyof RunRow>(runColumns), (rows) => {
          forget();
          engine.commit(() => {
            engine.store.appendRun('r1', runNumbers(rows));
          });
          expect(readRun(engine.reader, 'r1')).toEqual(rows);
          engine.commit(() => {
            engine.store.close('r1');
          });
          expect(readRun(engine.reader, 'r1')).toEqual(rows);
        }),
        { numRuns: 150 },
      );
    });

    it('equals a plain list after any history of appends, tails, cuts, closes and seals', () => {
      const step = fc.oneof(
        { weight: 4, arbitrary: fc.record({ kind: fc.constant('append' as const), count: fc.oneof(fc.integer({ min: 1, max: 5 }), fc.integer({ min: 1, max: 700 })) }) },
        { weight: 2, arbitrary: fc.record({ kind: fc.constant('tail' as const), count: fc.integer({ min: 0, max: 30 }) }) },
        { weight: 1, arbitrary: fc.record({ kind: fc.constant('cut' as const), count: fc.integer({ min: 0, max: 1000 }) }) },
        { weight: 3, arbitrary: fc.record({ kind: fc.constantFrom('close' as const, 'seal' as const), count: fc.constant(0) }) },
      );
      fc.assert(
        fc.property(fc.array(step, { maxLength: 12 }), (steps) => {
          forget();
          let final = 0;
          let tail = 0;
          for (const { kind, count } of steps) {
            engine.commit(() => {
              if (kind === 'append') {
                const to = Math.min(final + count, 1960);
                engine.store.appendArc('r1', 1, arcNumbers(arcRows.slice(final, to)));
                [final, tail] = [to, Math.max(to, tail)];
              } else if (kind === 'tail') {
                engine.store.setTail('r1', [{ arc: 1, rows: arcNumbers(arcRows.slice(final, final + count)) }], runNumbers([]));
                tail = final + count;
              } else if (kind === 'cut') {
                const left = Math.max(0, final - count);
                engine.store.cut('r1', place(left));
                final = tail = left;
              } else {
                engine.store[kind]('r1');
              }
            });
            expect(read()).toEqual(arcRows.slice(0, tail));
            expect(engine.reader.extent('r1')?.rows ?? 0).toBe(tail);
          }
        }),
        { numRuns: 60 },
      );
    });
  });
}
