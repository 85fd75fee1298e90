import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { RowStretch } from '../../shared/weld/rows/row-stretch.js';
import { madeRows, madeStands } from './made-rows.js';
import type { TraceEngine } from './trace-engine.js';
import { arcNumbers, runNumbers } from '../named-rows.js';

const made = [...madeRows(madeStands({ count: 1400, start: 1_700_000_000_037_000, interval: 100_000, jitter: 3, seed: 7 }))];
const arcRows = made.map((row) => row.arc);
const runRows = made.map((row) => row.run);
const first = arcRows[0]?.index ?? 0;

/** One column of all stretches. */
function columnOf<Name extends string>(stretches: Iterable<RowStretch<Name>>, name: NoInfer<Name>): number[] {
  return [...stretches].flatMap(({ count, columns }) => {
    expect(columns[name].length).toBe(count);
    return [...columns[name]];
  });
}

/** Reading in columns gives what reading in rows gives: the packed, the plain and the provisional ones. Part of `traceStoreContract`. */
export function traceColumnsContract(name: string, open: () => TraceEngine): void {
  describe(`trace store in columns: ${name}`, () => {
    let engine: TraceEngine;
    beforeEach(() => {
      engine = open();
      engine.commit(() => {
        for (const row of arcRows.slice(0, 1300)) engine.store.appendArc('r1', 1, arcNumbers([row]));
        engine.store.appendRun('r1', runNumbers(runRows.slice(0, 1300)));
        engine.store.setTail('r1', [{ arc: 1, rows: arcNumbers(arcRows.slice(1290, 1310)) }], runNumbers(runRows.slice(1290, 1310)));
      });
    });
    afterEach(() => {
      engine.dispose();
    });

    it.each([[0, 1], [0, 1310], [599, 601], [650, 655], [1190, 1300], [1295, 1310], [1400, 2000], [-50, 10], [5, 5]])('reads from row %i to row %i', (from, to) => {
      const range = [first + from, first + to] as const;
      const [begin, end] = [Math.max(0, from), Math.min(to, 1310)];
      for (const column of ['index', 'energy', 'maxVoltage', 'flags'] as const) {
        // The stretches are still good when all of them have been read.
        const read = [...engine.reader.readArcColumns('r1', 1, ['flags', 'energy', 'maxVoltage', 'index'], ...range)];
        expect(columnOf(read, column)).toEqual(arcRows.slice(begin, end).map((row) => row[column]));
      }
      for (const column of ['travelSpeed', 'advance'] as const) {
        expect(columnOf(engine.reader.readRunColumns('r1', [column], ...range), column)).toEqual(runRows.slice(begin, end).map((row) => row[column]));
      }
      expect(columnOf(engine.reader.readArcColumns('r1', 2, ['current'], ...range), 'current')).toEqual([]);
    });
  });
}
