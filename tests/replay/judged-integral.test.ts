import { describe, expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { firstOfKnown, seedsFrom } from '../seeds.js';
import { procedureParameters } from '../../shared/weld/procedure/procedure-parameters.js';
import type { CarriageEvent, ReplayedRun } from './replay.js';
import { replay } from './replay.js';
import { judgedSeries, type JudgedSeries } from '../../shared/weld/along/judged-series.js';
import { judgedTrace } from '../../shared/weld/along/judged-trace.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import type { ProcedureParameters } from '../../shared/weld/procedure/zone.js';
import { noProcedure, runParameters } from '../../shared/weld/procedure/zone.js';
import { randomRun } from '../model/random-run.js';
import { withCoolingLimits } from '../model/random-cooling.js';
import { withPlates } from '../model/random-plates.js';
import { randomWindows } from '../model/random-windows.js';
import { seededRandom } from '../model/seeded-random.js';
import { carriageEvents } from './carriage-events.js';
import { judgedCase, programProcedures } from './case-procedures.js';
import { caseStart } from './expand-case.js';
import { readCases } from './read-cases.js';

const seeds = countFrom('JUDGED_SEEDS', { soon: 60, full: 200 });
// As in against-model.test.ts, whose streams these are.
const first = firstOfKnown('JUDGED_FIRST_SEED', 200, seeds);

const seriesOf = ({ assignment, rows, figures }: ReplayedRun, procedures: ReadonlyMap<string, ProcedureParameters>): JudgedSeries[] =>
  judgedSeries(rows, runParameters(assignment, procedures.get(assignment?.procedure ?? '') ?? noProcedure), figures.endedAt !== null);

/** The API gives times to the millisecond and figures with 12 digits. */
const ms = (time: number): number => Math.round(time / 1000);
const sameFigure = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-11 * Math.max(1, Math.abs(a), Math.abs(b));

/** The excursions of a run that do not agree with its judged values, a line each. */
function offTheLine(run: ReplayedRun, series: readonly JudgedSeries[]): string[] {
  return run.excursions.flatMap(({ quantity, arc, limit, worst, fromTime, toTime }) => {
    if (quantity === 'meanHeatInput') return [];
    const name = `${quantity} of arc ${String(arc)} from ${fromTime}`;
    const own = series.find((other) => other.quantity === quantity && other.arc === arc);
    if (own === undefined) return [`${name}: no judged values`];
    const begin = own.times.findIndex((time) => ms(time) === Date.parse(fromTime));
    const begins = own.values[begin];
    if (begins === undefined) return [`${name}: no judged value where it begins`];
    const end = toTime === null ? own.times.length : own.times.findIndex((time) => ms(time) >= Date.parse(toTime));
    const values = own.values.slice(begin, end === -1 ? undefined : end);
    const upper = worst > limit;
    const found: string[] = [];
    const outside = (value: number): boolean => (upper ? value > limit : value < limit);
    if (!outside(begins)) found.push(`${name}: begins with ${begins}, inside ${limit}`);
    const before = own.values[begin - 1];
    const goesOn = before !== undefined && (own.times[begin - 1] ?? 0) >= (own.times[begin] ?? 0) - 100_000;
    const endsThere = run.excursions.some((other) => other.quantity === quantity && other.arc === arc && other.limit === limit && other.toTime === fromTime);
    if (goesOn && outside(before) && !endsThere) found.push(`${name}: was outside before`);
    const most = upper ? Math.max(...values) : Math.min(...values);
    if (!sameFigure(most, worst)) found.push(`${name}: worst ${worst}, the values have ${most}`);
    // If the excursion ends with its arc, nothing is judged after it.
    const next = end === -1 || toTime === null || ms(own.times[end] ?? 0) !== Date.parse(toTime) ? undefined : own.values[end];
    if (next !== undefined && outside(next)) found.push(`${name}: ends with ${next}, outside`);
    return found;
  });
}

describe('what is drawn as judged is what is judged', () => {
  it.each(readCases())('$name: every excursion begins, ends and has its worst value on the judged values', ({ file }) => {
    const { messages, applied } = judgedCase(file);
    const procedures = programProcedures(applied);
    const runs = replay(carriageEvents(messages, caseStart(file)), { settings: defaultWeldSettings, procedures });
    expect(runs.flatMap((run) => offTheLine(run, seriesOf(run, procedures)))).toEqual([]);
  });

  it(`and so in ${seeds} random runs from seed ${first} on`, { timeout: 3_600_000 }, () => {
    const wrong: string[] = [];
    let excursions = 0;
    for (const seed of seedsFrom(first, seeds)) {
      const { description, events: stream } = randomRun(seed);
      const events = withPlates(stream, seed);
      const items = events.flatMap((event) => (event.type === 'item' ? [event.item] : []));
      const procedures = new Map([['P-1', procedureParameters(withCoolingLimits(randomWindows(seededRandom(seed + 1_000_000), items, 'P-1'), 1.8, seed), { run: 1 })]]);
      const under = events.map((event): CarriageEvent => (event.type === 'assignment' && event.assignment !== null ? { ...event, assignment: { ...event.assignment, procedure: 'P-1' } } : event));
      for (const run of replay(under, { settings: defaultWeldSettings, procedures })) {
        excursions += run.excursions.length;
        const found = offTheLine(run, seriesOf(run, procedures));
        if (found.length > 0) wrong.push([description, ...found.slice(0, 4)].join('\n    '));
      }
    }
    expect(wrong, 'replay one with JUDGED_FIRST_SEED and JUDGED_SEEDS=1').toEqual([]);
    expect(excursions).toBeGreaterThan(seeds / 2);
  });
});

describe('judged values in columns', () => {
  // Invented: ten rows of 1 mm; the third and fourth are not judged.
  const series: JudgedSeries = {
    arc: 2, quantity: 'voltage',
    times: [0, 1, 4, 5, 6, 7, 8, 9].map((row) => row * 100_000),
    travelled: [0, 1, 4, 5, 6, 7, 8, 9],
    values: [30, 31, 33, 29, 30, 30, 34, 30],
  };
  const whole = { axis: 'time', points: 20, start: 0, startOffset: 1000, direction: -1, offsets: { 2: 60 } } as const;

  it('give each value where there is room, and a hole where nothing was judged', () => {
    expect(judgedTrace([series], whole)).toEqual([{
      arc: 2, quantity: 'voltage',
      at: [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9],
      value: [30, 31, null, null, 33, 29, 30, 30, 34, 30],
      min: [30, 31, null, null, 33, 29, 30, 30, 34, 30],
      max: [30, 31, null, null, 33, 29, 30, 30, 34, 30],
    }]);
  });

  it('keep the least and the greatest value where they are thinned', () => {
    const [own] = judgedTrace([series], { ...whole, points: 2 });
    expect(own).toMatchObject({ at: [0, 0.5], value: [(30 + 31 + 33) / 3, (29 + 30 + 30 + 34 + 30) / 5], min: [30, 29], max: [33, 34] });
  });

  it('lie at the place of their arc on the seam, and are those of the asked part', () => {
    // 1000 - (travelled - 60)
    const [own] = judgedTrace([series], { ...whole, axis: 'seamPosition', from: 1055, to: 1052 });
    expect(own).toMatchObject({ at: [1055, 1054, 1053, 1052], value: [29, 30, 30, 34] });
  });
});
