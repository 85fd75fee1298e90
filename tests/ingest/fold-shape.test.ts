import { expect, it } from 'vitest';
import { foldShape, hashOf, sampledShape, shapeOfSample } from '../../services/ingest/fold/fold-shape.js';
import { noteShape, shapeLines } from '../../services/ingest/fold/state-shape.js';
import type { StateShape } from '../../services/ingest/fold/state-shape.js';
import type { Assignment } from '../../shared/weld/procedure/assignment.js';
import { timelineContext } from '../../shared/weld/run/assignment-timeline.js';
import { foldItem, startFold } from '../../shared/weld/run/carriage-fold.js';
import { procedureParameters } from '../../shared/weld/procedure/procedure-parameters.js';
import { arrange } from '../replay/replay.js';
import type { CarriageEvent } from '../replay/replay.js';
import { startRoom } from '../../shared/weld/rows/row-group.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { noProcedure } from '../../shared/weld/procedure/zone.js';
import type { ProcedureParameters } from '../../shared/weld/procedure/zone.js';
import { alarmProcedureId, randomAlarms } from '../model/random-alarms.js';
import { randomRun } from '../model/random-run.js';
import { carriageEvents } from '../replay/carriage-events.js';
import { judgedCase, programProcedures } from '../replay/case-procedures.js';
import { caseStart } from '../replay/expand-case.js';
import { readCases } from '../replay/read-cases.js';
import { firstSeed, seedsFrom } from '../seeds.js';
import { expectAccounted } from './accounted.js';
import { commit, finishAll, killed, storedRuns } from './arrive.js';
import type { OpenStreams } from './open-streams.js';
import { useOpenStreams } from './use-open-streams.js';

let own: OpenStreams;
useOpenStreams((opened) => { own = opened; });

const ignored = { room: startRoom(), row: () => undefined, began: () => undefined, finished: () => undefined };

/** Folds events and notes the state after every `every` of them. */
function walk(shape: StateShape, events: Iterable<CarriageEvent>, every: number, procedure: (body: Assignment | null) => ProcedureParameters): void {
  const { items, timeline } = arrange(events);
  const context = timelineContext(timeline, defaultWeldSettings, procedure);
  const state = startFold();
  for (const [at, item] of items.entries()) {
    foldItem(state, item, context, ignored);
    if (at % every === 0) noteShape(shape, state);
  }
}

it('the invented weld meets every part of a state that the golden cases and random runs meet', { timeout: 120_000 }, () => {
  const met: StateShape = new Map();
  for (const { file } of readCases()) {
    const { messages, applied } = judgedCase(file);
    const procedures = programProcedures(applied);
    walk(met, carriageEvents(messages, caseStart(file)), 23, (body) => procedures.get(body?.procedure ?? '') ?? noProcedure);
  }
  const first = firstSeed();
  for (const seed of seedsFrom(first, 15)) {
    walk(met, randomRun(seed).events, 3, () => noProcedure);
    const { events, procedure } = randomAlarms(seed);
    walk(met, events, 3, (body) => (body?.procedure === alarmProcedureId ? procedureParameters(procedure, body) : noProcedure));
  }
  expect(met.size).toBeGreaterThan(50);
  const sampled = sampledShape();
  // A key that is always null there has no contents to be known.
  const unknown = [...met].flatMap(([place, keys]) =>
    [...keys].flatMap(([key, kinds]) => [...kinds].filter((kind) => kind !== 'null' && sampled.get(place)?.get(key)?.has(kind) !== true).map((kind) => `${place}.${key}: ${kind}`)),
  );
  expect(unknown, `CHECK_SEED=${first}`).toEqual([]);
});

it('what is looked at of the invented weld shows as much as all of it', () => {
  expect(shapeLines(sampledShape())).toEqual(shapeLines(shapeOfSample(() => true)));
});

it('another shape of a state has another hash, and the same shape has the same hash, whatever the content', () => {
  const hash = (state: object): string => {
    const shape: StateShape = new Map();
    noteShape(shape, state);
    return hashOf(shape);
  };
  const state = { on: 1.5, arcs: { 1: { lit: true, rows: [{ from: 1, to: null }] } } };
  expect(hash({ on: -7, arcs: { 2: { lit: false, rows: [{ from: 2, to: null }, { from: 3, to: null }] }, 6: { lit: true, rows: [] } } })).toBe(hash(state));
  const arc = (more: object, row: object = { from: 1, to: null }): object => ({ on: 1.5, arcs: { 1: { lit: true, rows: [row], ...more } } });
  const others = [
    arc({ length: 1 }), arc({}, { from: 1, to: null, arc: 1 }), // added
    { arcs: state.arcs }, arc({}, { from: 1 }), // removed
    { off: 1.5, arcs: state.arcs }, arc({}, { begin: 1, to: null }), // renamed
    arc({ lit: 1 }), arc({}, { from: 1, to: 2 }), arc({ rows: { from: 1, to: null } }), { on: [1.5], arcs: state.arcs }, // of another kind
  ].map(hash);
  expect(new Set([hash(state), ...others]).size).toBe(others.length + 1);
});

const start = Date.UTC(2026, 10, 2, 6);

it('a checkpoint of another shape is skipped, and its items are folded again', () => {
  // 20 s of arc at 10 Hz; invented values.
  const send = (from: number, to: number): void => {
    commit(own, () => {
      for (let seq = from; seq < to; seq += 1) own.take('weld/hall/c1/readings', JSON.stringify({ boot: 'b1', seq, time: start + seq * 100, current: 600, voltage: 30, travelSpeed: 600 }));
    });
  };
  send(0, 200);
  finishAll(own);
  const shapes = (): (string | null)[] => own.db.prepare<[], { shape: string | null }>("select position ->> '$.shape' as shape from checkpoints order by id").all().map(({ shape }) => shape);
  expect(new Set(shapes())).toEqual(new Set([foldShape()]));
  own.db.exec(`update checkpoints set position = json_set(position, '$.shape', 'another'), state = x'00'`);
  killed(own);
  send(200, 210);
  finishAll(own);
  expect(shapes()).not.toContain('another');
  // 209 intervals of 0.1 s at 18 kW
  expect(storedRuns(own, 'c1').map(({ energy }) => energy)).toEqual([376.2]);
  expectAccounted(own.folder, { now: own.now });
});
