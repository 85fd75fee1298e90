import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { foldShape } from '../../services/ingest/fold/fold-shape.js';
import { alarmSchema } from '../../shared/api-types/alarm.js';
import { excursionSchema } from '../../shared/api-types/excursion.js';
import { runSchema } from '../../shared/api-types/run.js';
import { profileSchema, traceSchema } from '../../shared/api-types/trace.js';
import { schemaVersion } from '../../shared/records/migrate.js';
import { fakePort } from '../api/fake-port.js';
import { serveApi } from '../api/start-api.js';
import { expectAccounted } from '../ingest/accounted.js';
import { commit, finishAll, killed } from '../ingest/arrive.js';
import { openStreams } from '../ingest/open-streams.js';
import type { OpenStreams } from '../ingest/open-streams.js';
import { caseStart } from '../replay/expand-case.js';
import { answersBefore, storeBefore } from './store-before/open-store.js';
import { answersOf } from './store-before/stored-answers.js';
import type { Answers, RunAnswers } from './store-before/stored-answers.js';
import { openCase } from './store-before/store-cases.js';
import { spreadNames } from '../../shared/weld/quantities.js';

/** What that program did not tell of a run, by its carriage: whether limits applied to it. */
const judged: Readonly<Record<string, readonly [judged: boolean, why: string | null]>> = {
  'open': [true, null], 'late': [false, 'noProcedure'], '70-heat-input-of-two-arcs': [true, null],
  '03-data-gap': [false, 'noProcedure'], '77-late-after-the-end': [true, null], '27-zones-of-the-procedure': [false, 'noLimits'],
};

/**
 * Zones that today's rules see otherwise, by the carriage. Heat input of two arcs is judged only where both of them pass: arc 2 is 40 mm behind, so
 * that it does not reach the last 40 mm of arc 1, which lie before the crater of 20 mm. Of the lengths that were recorded these 40 mm are inside; judged
 * again, once the items are folded again, they are excluded.
 */
const otherZones: Readonly<Record<string, readonly (readonly [zone: string, from: number, to: number])[]>> = {
  '70-heat-input-of-two-arcs': [['ignition', 0, 20], ['weld', 20, 640], ['crater', 640, 680], ['crater', 680, 700]],
};

const otherLengths: Readonly<Record<string, object>> = { '70-heat-input-of-two-arcs': { lengths: { inside: 520, outside: 100, notProven: 0, excluded: 80 } } };

interface Zone {
  readonly zone: string;
  readonly fromTravelled: number;
  readonly toTravelled: number;
  readonly arcs?: readonly number[];
}

const carriageOf = ({ run }: RunAnswers): string => String(run['carriage']);
const zonesOf = ({ trace }: RunAnswers): readonly (readonly [string, number, number])[] => (trace['zones'] as readonly Zone[]).map(({ zone, fromTravelled, toTravelled }) => [zone, fromTravelled, toTravelled]);

let own: OpenStreams;

beforeEach(() => {
  own = openStreams(undefined, {}, storeBefore());
  // As the process would have gone on: some seconds after the last message.
  own.now = (own.db.prepare('select max(last_seen) from streams').pluck().get() as number) + 5e6;
});

afterEach(() => {
  own.close();
  expect(own.problems).toEqual([]);
});

/** What that program did not tell of: why a figure is missing but in words, and quantities and figures that came after it. */
const unknownThen = new Set<string>(['reasons', 'travel', 'sensors', 'voltageRaw', 'ac', 'ripple', 't85', 'runGroup', 'weldZone.travelSpeed', 'temperatures', 'temperatureChecks', 'deposit', 'electricity', 'currentDensity', 'extension', ...spreadNames.slice(1)]);
/** Means over the weld zone, which came later. */
const unknownOfWeldZone = new Set(['travelSpeed', 'arcs']);
type Part = Readonly<Record<string, unknown>>;

function asKnownThen(run: RunAnswers['run']): RunAnswers['run'] {
  const known = omitUnknown(run);
  return { ...known, weldZone: omitUnknown(run['weldZone'] as Part, unknownOfWeldZone), absent: omitUnknown(run['absent'] as Part), arcs: (run['arcs'] as readonly Part[]).map((arc) => ({ ...omitUnknown(arc), absent: omitUnknown(arc['absent'] as Part) })) };
}

function omitUnknown(part: Part, unknown: ReadonlySet<string> = unknownThen): Part {
  return Object.fromEntries(Object.entries(part).filter(([name]) => !unknown.has(name) && !unknown.has(name.split('.')[0] ?? '')));
}

/** Places in degrees, and how far round a run went, came later too; none of these runs is circumferential. */
const round = /(^|\.)(circumference|degrees|seamDegrees|(from|to|stopped|restarted)(Seam)?Degrees)$/;

function withoutDegrees<Told>(told: Told): Told {
  if (Array.isArray(told)) return told.map((own: unknown) => withoutDegrees(own)) as Told;
  if (typeof told !== 'object' || told === null) return told;
  return Object.fromEntries(Object.entries(told).filter(([name]) => !round.test(name)).map(([name, own]) => [name, withoutDegrees<unknown>(own)])) as Told;
}

async function answered(): Promise<Answers> {
  const api = await serveApi(join(own.folder, 'seamwarden.db'), { port: fakePort(own.db) });
  const answers = await answersOf(api.url);
  await api.close();
  expect(api.logged).toEqual([]);
  return answers;
}

function expectAsBefore(today: RunAnswers, before: RunAnswers, told: object): void {
  const carriage = carriageOf(before);
  const now = withoutDegrees(today);
  expect(asKnownThen(now.run), carriage).toEqual({ ...before.run, ...told });
  expect(now.excursions, carriage).toEqual(before.excursions);
  expect({ ...now.trace, zones: [], arcs: (now.trace['arcs'] as readonly Part[]).map((arc) => omitUnknown(arc)) }, carriage).toEqual({ ...before.trace, zones: [] });
  expect(zonesOf(now), carriage).toEqual(otherZones[carriage] ?? zonesOf(before));
  expect(omitUnknown(now.profile), carriage).toEqual(before.profile);
  expect([runSchema, traceSchema, profileSchema].map((schema, at) => schema.safeParse([today.run, today.trace, today.profile][at]).error), carriage).toEqual([undefined, undefined, undefined]);
  for (const excursion of today.excursions) excursionSchema.parse(excursion);
}

describe('a store that an earlier program wrote and was killed over', () => {
  it('contains what it should: plain and packed rows without a format, checkpoints, an open run, an alarm, a late item and a refused one', () => {
    const count = (sql: string): unknown => own.db.prepare(`select count(*) from ${sql}`).pluck().get();
    expect(own.db.pragma('user_version', { simple: true })).toBe(schemaVersion);
    for (const place of ['trace_recent', 'trace_tail', 'trace_packed', 'checkpoints', 'late', 'refused', 'alarms', "runs where state = 'welding'", 'assignments', 'procedures']) expect(count(place), place).toBeGreaterThan(0);
    expect(count('trace_recent where length(body) % 8 <> 0')).toBe(0);
    expect(count("checkpoints where position ->> '$.version' = 3")).toBe(count('checkpoints'));
  });

  it('is answered as by that program, each run in today\'s shape', async () => {
    const [now, before] = [await answered(), answersBefore()];
    expect(now.runs.map(carriageOf)).toEqual(before.runs.map(carriageOf));
    for (const [at, run] of now.runs.entries()) {
      const told = before.runs[at];
      if (told === undefined) continue;
      const [isJudged, why] = judged[carriageOf(told)] ?? [];
      expectAsBefore(run, told, {
        judged: isJudged, notJudged: why, origin: { kind: 'live', file: null, at: null, by: null },
        litElsewhere: null, absent: { ...(told.run['absent'] as object), litElsewhere: 'it was not noted when the run was recorded' },
      });
    }
    expect(now.list).toEqual(now.runs.map(({ run }) => run));
    expect(now.alarms).toEqual(before.alarms.map((alarm) => ({ ...alarm, seam: null, runNumber: null, recordedAt: null, clearedRecordedAt: null })));
    for (const alarm of now.alarms) alarmSchema.parse(alarm);
  });

  it('is continued: its items are folded again, and the open run receives further items', async () => {
    killed(own);
    finishAll(own);
    expect(new Set(own.db.prepare("select position ->> '$.shape' from checkpoints").pluck().all())).toEqual(new Set([foldShape()]));
    const [now, before] = [await answered(), answersBefore()];
    for (const [at, run] of now.runs.entries()) {
      const told = before.runs[at];
      const [isJudged, why] = judged[carriageOf(run)] ?? [];
      if (told === undefined) continue;
      // Nobody entered anything at the carriage, which that program did not tell apart.
      const preparation = { ...(told.run['preparation'] as object), confirmed: [] };
      expectAsBefore(run, told, { judged: isJudged, notJudged: why, origin: { kind: 'live', file: null, at: null, by: null }, litElsewhere: false, preparation, ...otherLengths[carriageOf(run)] });
    }
    commit(own, () => {
      for (let seq = 800; seq < 900; seq += 1) {
        own.take('weld/replay/open/readings', JSON.stringify({ boot: 'b1', seq, time: caseStart(openCase) + seq * 100, arc: 1, current: 600, voltage: 30, wireFeedSpeed: 1.2, travelSpeed: 600 }));
      }
    });
    finishAll(own);
    const open = (await answered()).runs.find((run) => carriageOf(run) === 'open');
    expect(open?.run['id']).toBe(before.runs.find((run) => carriageOf(run) === 'open')?.run['id']);
    // 899 intervals of 0.1 s at 600 A: 84.9 s at 30 V, 5 s at 36 V; 10 mm/s
    expect(open?.run).toMatchObject({ state: 'welding', arcTime: 89.9, length: 899, energy: 1636.2, excursions: 1 });
    // Each of the 900 readings begins in a row of its own.
    expect(open?.trace['rows']).toBe(900);
    expectAccounted(own.folder, { now: own.now });
  });
});
