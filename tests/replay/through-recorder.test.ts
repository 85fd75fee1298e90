import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { recorderByHand, type RecorderByHand } from '../ingest/recorder-by-hand.js';
import { atPath, differences } from './check-figures.js';
import { inOrder, listDifferences } from './check-lists.js';
import { caseStart } from './expand-case.js';
import { readCases, type GoldenCase } from './read-cases.js';
import { sendToRecorder } from './send-to-recorder.js';

let own: RecorderByHand;

beforeEach(() => { own = recorderByHand(); });
afterEach(() => { own.close(); });

const excursionsOf = (run: unknown): unknown[] => own.db.prepare<[string], { list: string }>('select list from excursion_pieces where run_id = ? order by piece').all(String(atPath(run, 'id'))).flatMap(({ list }) => JSON.parse(list) as unknown[]);

function differencesOf({ file, expected }: GoldenCase): string[] {
  const start = caseStart(file);
  const runs = own.records('runs');
  if (runs.length !== expected.runs.length) return [`expected ${expected.runs.length} runs, got ${runs.length}`];
  const inRuns = expected.runs.flatMap((run, at) => [
    ...differences(runs[at], run.figures, start),
    ...(run.excursions === null ? [] : listDifferences('excursion', inOrder(excursionsOf(runs[at]), 'fromTime'), run.excursions, start)),
  ].map((line) => `run ${at}: ${line}`));
  // For `withdrawn`, a case only says whether there is a reason.
  const alarms = inOrder(own.records('alarms'), 'raisedAt').map((alarm) => ({ ...(alarm as object), withdrawn: atPath(alarm, 'withdrawn') !== null }));
  return [...inRuns, ...(expected.alarms === null ? [] : listDifferences('alarm', alarms, expected.alarms, start))];
}

describe('golden cases through the recorder, by a clock that is moved by hand', () => {
  it.each(readCases())('$name: $file.title', async (golden) => {
    await sendToRecorder(own, golden);
    expect(differencesOf(golden), golden.file.source).toEqual([]);
    expect(own.problems).toEqual([]);
  });
});
