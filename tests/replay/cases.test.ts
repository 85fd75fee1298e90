import { describe, expect, it } from 'vitest';
import { replay } from '../../shared/weld/replay.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { plainRuns } from '../model/plain-run.js';
import { canonicalOrder, carriageEvents, plainProcedures } from './carriage-events.js';
import { differences } from './check-figures.js';
import { caseStart, expandCase } from './expand-case.js';
import { readCases, type GoldenCase } from './read-cases.js';

const cases = readCases();

function check(runs: readonly object[], { file, expected }: GoldenCase): void {
  const found = expected.runs.flatMap((run, i) => differences(runs[i], run, caseStart(file)).map((line) => `run ${i}: ${line}`));
  if (runs.length !== expected.runs.length) found.unshift(`expected ${expected.runs.length} runs, got ${runs.length}`);
  expect(found, file.source).toEqual([]);
}

describe('golden cases: the plain model agrees with what was worked out by hand', () => {
  it.each(cases)('$name: $file.title', (golden) => {
    const { items, assignments } = canonicalOrder(carriageEvents(expandCase(golden.file), caseStart(golden.file)));
    check(plainRuns(items, assignments, defaultWeldSettings, plainProcedures(golden.file.procedures ?? [])), golden);
  });
});

describe('golden cases: the program agrees with what was worked out by hand', () => {
  it.each(cases)('$name: $file.title', (golden) => {
    const events = carriageEvents(expandCase(golden.file), caseStart(golden.file));
    const plain = [...plainProcedures(golden.file.procedures ?? [])];
    const procedures = new Map(plain.map(([id, { offsets, ...zones }]) => [id, { ...zones, offsets: Object.fromEntries(offsets), windows: null }]));
    const runs = replay(events, { settings: defaultWeldSettings, procedures });
    // which attempt a run is belongs to the record and is checked through the service
    const expected = golden.expected.runs.map((run) => Object.fromEntries(Object.entries(run).filter(([path]) => path !== 'attempt')));
    check(
      runs.map(({ assignment, figures }) => ({ assignment, assigned: assignment !== null, ...figures })),
      { ...golden, expected: { runs: expected } },
    );
  });
});
