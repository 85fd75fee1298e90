import { describe, expect, it } from 'vitest';
import { procedureParameters } from '../../shared/weld/procedure/procedure-parameters.js';
import { replay } from './replay.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { countFrom, isFull } from '../counts.js';
import { firstSeed, seedsFrom } from '../seeds.js';
import type { PlainAlarm } from '../model/alarm-types.js';
import { differencesFromRecord } from '../model/alarms-and-record.js';
import { plainAlarms } from '../model/plain-alarms.js';
import { plainWindows } from '../model/plain-windows.js';
import { randomAlarms } from '../model/random-alarms.js';
import { plainStream } from '../model/zoned-rows.js';
import { canonicalOrder } from './carriage-events.js';
import { namedGroup } from '../named-rows.js';

const seeds = countFrom('ALARM_MODEL_SEEDS', 200);
const first = firstSeed('ALARM_MODEL_FIRST_SEED');
/** Computing every row is slow: it is done for one seed in this many, and one row in this many is checked. */
const everyRowOf = 19;
const lookEvery = 5;

/** The model's runs of a scenario, with the program's rows. */
function modelledRuns(seed: number) {
  const { events, procedure } = randomAlarms(seed, { moved: seed % 4 === 0 });
  const { items, assignments } = canonicalOrder(events);
  const stream = plainStream(items, assignments, defaultWeldSettings);
  const told = replay(events, { settings: defaultWeldSettings, procedures: new Map([[procedure.id, procedureParameters(procedure, { run: 1 })]]) });
  return stream.runs.flatMap((run, i) => {
    const rows = (told[i]?.rows ?? []).map(namedGroup);
    const finished = told[i] !== undefined && told[i].figures.endedAt !== null;
    return rows.length === 0 ? [] : [{ stream, run, procedure, rows, finished }];
  });
}

const inOrder = (alarms: readonly PlainAlarm[]): string[] => alarms.map((alarm) => JSON.stringify(alarm)).sort();

// This compares the model with itself; it says nothing about the program.
describe.runIf(isFull)('alarms of the plain model', () => {
  it(`are the excursions of the record once a run is over, in ${seeds} random scenarios from seed ${first} on`, { timeout: 600_000 }, () => {
    let compared = 0;
    for (const seed of seedsFrom(first, seeds))
      for (const { stream, run, procedure, rows, finished } of modelledRuns(seed)) {
        if (!finished) continue;
        const { excursions } = plainWindows(stream, run, procedure, rows, { finished, weldHeatInput: null });
        expect(differencesFromRecord(plainAlarms(stream, run, procedure, rows).at(Number.POSITIVE_INFINITY), excursions), `seed ${seed}`).toEqual([]);
        compared += excursions.length;
      }
    expect(compared).toBeGreaterThan(0);
  });

  it('are the same where the conditions of every row are worked out', { timeout: 600_000 }, () => {
    let compared = 0;
    for (const seed of seedsFrom(first, Math.ceil(seeds / everyRowOf), () => compared === 0))
      for (const { stream, run, procedure, rows } of modelledRuns(seed)) {
        const soon = plainAlarms(stream, run, procedure, rows);
        const slow = plainAlarms(stream, run, procedure, rows, { everyRow: true });
        for (const { run: row } of rows.filter((_, i) => i % lookEvery === 0)) {
          const alarms = slow.at(row.index);
          compared += alarms.length;
          expect(inOrder(soon.at(row.index)), `seed ${seed}, row ${row.index}`).toEqual(inOrder(alarms));
        }
      }
    expect(compared).toBeGreaterThan(0);
  });
});
