import { describe, expect, it } from 'vitest';
import { isFull } from '../counts.js';
import { spreadNames } from '../../shared/weld/quantities.js';
import { modelRuns, programRuns, type CaseRun } from './case-runs.js';
import { differences } from './check-figures.js';
import { inOrder, listDifferences } from './check-lists.js';
import { caseStart } from './expand-case.js';
import { readCases, type GoldenCase } from './read-cases.js';

const cases = readCases();

/** The attempt and version of a run, and the revision by which it is judged, belong to the record and are checked through the service. */
const ofRecord = /^(attempt|version|procedure(\..*)?)$/;
/** The model numbers the attempts too, lists no temperatures beside the one that counts, and has no place at the end of a run; of the quantities summed as they were sent it only judges the windows. */
const notOfModel = new RegExp(`^(version|travelled|degrees|temperatures[[.].*|procedure(\\..*)?|arcs\\[\\d+\\]\\.(${spreadNames.join('|')})(\\..*)?)$`);

function check(runs: readonly CaseRun[], { file, expected }: GoldenCase, left: RegExp): void {
  const start = caseStart(file);
  const found = expected.runs.flatMap((run, i) => {
    const figures = Object.fromEntries(Object.entries(run.figures).filter(([path]) => !left.test(path)));
    const excursions = run.excursions === null ? [] : listDifferences('excursion', inOrder(runs[i]?.excursions ?? [], 'fromTime'), run.excursions, start);
    return [...differences(runs[i]?.figures, figures, start), ...excursions].map((line) => `run ${i}: ${line}`);
  });
  if (runs.length !== expected.runs.length) found.unshift(`expected ${expected.runs.length} runs, got ${runs.length}`);
  expect(found, file.source).toEqual([]);
}

// This concerns only the model; it says nothing about the program.
describe.runIf(isFull)('golden cases: the plain model agrees with what was worked out by hand', () => {
  it.each(cases)('$name: $file.title', (golden) => {
    check(modelRuns(golden.file), golden, notOfModel);
  });
});

describe('golden cases: the program agrees with what was worked out by hand', () => {
  it.each(cases)('$name: $file.title', (golden) => {
    check(programRuns(golden.file), golden, ofRecord);
  });
});
