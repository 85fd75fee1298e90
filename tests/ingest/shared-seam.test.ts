import { afterEach, beforeEach, expect, it } from 'vitest';
import { answeredRuns } from '../../shared/answers/answered-runs.js';
import { recordsOf } from '../../shared/records/open-database.js';
import { listRuns } from '../../shared/records/runs.js';
import { sqliteTraceReader } from '../../shared/traces/sqlite-traces.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { atPath } from '../replay/check-figures.js';
import { recorderByHand, type RecorderByHand } from './recorder-by-hand.js';

let own: RecorderByHand;
beforeEach(() => { own = recorderByHand(); });
afterEach(() => { own.close(); });

let time = Date.UTC(2026, 10, 2, 12);

/** Welds one run of a few seconds. */
function weld(carriage: string, seam: string, run: number): void {
  own.take(`weld/hall/${carriage}/assignment`, { seam, run });
  own.clock.pass(10);
  const items = Array.from({ length: 40 }, (_, seq) => ({ boot: `b${time}`, seq, time: time + seq * 100, current: seq < 30 ? 600 : 0, voltage: seq < 30 ? 30 : 0, travelSpeed: 550 }));
  time += 60_000;
  own.take(`weld/hall/${carriage}/readings`, items);
  own.clock.pass(10);
  own.take(`weld/hall/${carriage}/assignment`, '');
  own.clock.pass(2_000);
}

async function flagged(): Promise<string[]> {
  const records = recordsOf(own.db);
  const runs = answeredRuns(records, sqliteTraceReader(own.db), defaultWeldSettings);
  const { rows } = await listRuns(records, {}, { limit: 50, after: null }, { order: 'startedAt', direction: 'desc' });
  const texts = (await runs.records(rows)).map((text) => JSON.parse(text) as unknown);
  return texts.filter((run) => (atPath(run, 'flags') as string[]).includes('sharedSeam')).map((run) => `${String(atPath(run, 'carriage'))} ${String(atPath(run, 'seam'))} ${String(atPath(run, 'run'))}`).sort();
}

// Rules: one carriage welds a run at a time; a second carriage on the same seam and run is kept apart, and flagged.
it('flags the runs of two carriages along one seam under one number, both of them, and nothing else', async () => {
  weld('c1', 'S-1', 1);
  weld('c1', 'S-1', 2);
  expect(await flagged()).toEqual([]);
  weld('c2', 'S-1', 1);
  weld('c2', 'S-2', 2);
  // The first of the two was over before anybody could know about the second.
  expect(await flagged()).toEqual(['c1 S-1 1', 'c2 S-1 1']);
  expect(own.events.filter(({ event, data }) => event === 'run' && data.includes('sharedSeam')).map(({ data }) => atPath(JSON.parse(data), 'carriage'))).toContain('c2');
});

it('does so no longer where one of them was given another seam', async () => {
  weld('c1', 'S-1', 1);
  weld('c2', 'S-1', 1);
  const { id } = own.db.prepare<[], { id: string }>("select id from runs where carriage = 'c2'").get() ?? { id: '' };
  await own.calls.answer({ type: 'call', id: 1, name: 'assignRun', args: [id, { seam: 'S-2', run: 1 }, { by: 'op-07', reason: 'wrong seam' }] });
  own.clock.pass(2_000);
  expect(await flagged()).toEqual([]);
});
