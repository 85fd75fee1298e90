import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { recorderByHand, type RecorderByHand } from '../ingest/recorder-by-hand.js';
import type { CaseProcedure } from './case-format.js';
import { atPath, differences } from './check-figures.js';
import { inOrder, listDifferences } from './check-lists.js';
import { caseStart, expandCase } from './expand-case.js';
import { readCases, type GoldenCase } from './read-cases.js';

const signed = 'case';
let own: RecorderByHand;

beforeEach(() => { own = recorderByHand(); });
afterEach(() => { own.close(); });

async function addProcedure(procedure: CaseProcedure, first: boolean): Promise<void> {
  const answer = await own.calls.answer({ type: 'call', id: 1, name: 'addProcedure', args: [procedure.id, JSON.stringify(procedure), signed, first] });
  expect(answer).toMatchObject({ revision: expect.any(Number) as number });
}

/**
 * Sends the messages of a case in order, each assignment by itself: everything before it is acknowledged first, and it is acknowledged before more is
 * sent.
 */
async function send({ file, name }: GoldenCase): Promise<void> {
  for (const procedure of file.procedures ?? []) await addProcedure(procedure, true);
  let sent = 0;
  for (const message of expandCase(file)) {
    if (message.kind !== 'readings') own.clock.pass(10);
    if (message.kind === 'revision') await addProcedure(message.procedure, false);
    else {
      own.take(`weld/replay/${name}/${message.kind}`, message.payload ?? '');
      sent += 1;
    }
    if (message.kind === 'assignment') own.clock.pass(10);
  }
  own.clock.pass(3_000);
  expect(own.acknowledged).toBe(sent);
}

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
    await send(golden);
    expect(differencesOf(golden), golden.file.source).toEqual([]);
    expect(own.problems).toEqual([]);
  });
});
