import { describe, expect, it } from 'vitest';
import type { AlarmCondition } from '../../shared/weld/run/alarm-conditions.js';
import { alarmConditions, conditionsRevision } from '../../shared/weld/run/alarm-conditions.js';
import { foldItem, startFold } from '../../shared/weld/run/carriage-fold.js';
import { judgedExcursions } from '../../shared/weld/run/run-excursions.js';
import { judgedSums, runMarks } from '../../shared/weld/run/run-figures.js';
import type { RunState } from '../../shared/weld/run/run-state.js';
import { countFrom } from '../counts.js';
import { firstSeed, seedsFrom } from '../seeds.js';
import { randomAlarms } from '../model/random-alarms.js';
import { alarmItems } from './compare-alarms.js';
import { startRoom } from '../../shared/weld/rows/row-group.js';

const room = startRoom();

const seeds = countFrom('ALARM_RECORD_SEEDS', { soon: 100, full: 1_000 });
const first = firstSeed('ALARM_RECORD_FIRST_SEED');
const title = `of ${seeds} random scenarios from seed ${first} on`;

const momentary = new Set(['travelStopped', 'polarity', 'overlap', 'feedMismatch']);
type Told = Pick<AlarmCondition, 'arc' | 'quantity' | 'limit' | 'worst' | 'from' | 'to'>;
const line = ({ arc, quantity, limit, worst, from, to }: Told): string => JSON.stringify([quantity, arc, limit, from, to, worst]);

/** The alarms without an excursion, and the excursions without an alarm, if the run ended now. */
function differences(run: RunState): string[] {
  const marks = { ...runMarks(run), finished: true };
  const alarms = alarmConditions(run, true).filter(({ lostTo, quantity }) => lostTo === null && !momentary.has(quantity)).map(line);
  const record = judgedExcursions(marks, judgedSums(marks, run.sums)).filter(({ quantity }) => quantity !== 'meanHeatInput').map(line);
  return [...alarms.filter((own) => !record.includes(own)).map((own) => `only alarm ${own}`), ...record.filter((own) => !alarms.includes(own)).map((own) => `only record ${own}`)];
}

/** Everything on which the revision depends: which conditions there are, and whether they last. */
const listed = (run: RunState): string => JSON.stringify(alarmConditions(run, false).map(({ arc, quantity, limit, from, raised, to, lostTo }) => [quantity, arc, limit, from.time, raised.time, to?.time, lostTo]));

// Source: the rules, section 6: when a run is finished, its alarms of windowed quantities that were not withdrawn are its excursions.
describe('one judgement', () => {
  it(`gives alarms and record alike at the end of every run ${title}`, { timeout: 7_200_000 }, () => {
    const wrong: string[] = [];
    let runs = 0;
    for (const seed of seedsFrom(first, seeds)) {
      const { items, context } = alarmItems(randomAlarms(seed, { moved: seed % 3 === 0 }));
      const state = startFold();
      const finished = (run: RunState): void => {
        runs += 1;
        for (const difference of differences(run)) wrong.push(`seed ${seed} run ${run.ordinal}: ${difference}`);
      };
      for (const item of items) foldItem(state, item, context, { room, row: () => undefined, began: () => undefined, finished });
      if (state.merge.run !== null) finished(state.merge.run);
    }
    expect(wrong.slice(0, 10)).toEqual([]);
    expect(runs).toBeGreaterThanOrEqual(seeds / 2);
  });

  it(`counts its revision up whenever its list of conditions changes, ${title}`, { timeout: 7_200_000 }, () => {
    const wrong: string[] = [];
    let changes = 0;
    for (const seed of seedsFrom(first, Math.ceil(seeds / 10))) {
      const { items, context } = alarmItems(randomAlarms(seed, { moved: seed % 3 === 0 }));
      const state = startFold();
      let before = { ordinal: -1, revision: -1, list: '' };
      for (const item of items) {
        foldItem(state, item, context, { room, row: () => undefined, began: () => undefined, finished: () => undefined });
        const { run } = state.merge;
        if (run === null) continue;
        const now = { ordinal: run.ordinal, revision: conditionsRevision(run), list: listed(run) };
        if (now.ordinal === before.ordinal && now.list !== before.list) {
          changes += 1;
          if (now.revision <= before.revision) wrong.push(`seed ${seed} run ${run.ordinal}: ${before.list} became ${now.list} under revision ${now.revision}`);
        }
        before = now;
      }
    }
    expect(wrong.slice(0, 3)).toEqual([]);
    expect(changes).toBeGreaterThan(seeds / 10);
  });
});
