import { afterEach, beforeEach, expect, test } from 'vitest';
import { foldFresh } from '../../services/ingest/fold/fold-stream.js';
import { raiseSilenceAlarm } from '../../services/ingest/alarms/raise-silence-alarm.js';
import { openStreams, type OpenStreams } from './open-streams.js';

let own: OpenStreams;

beforeEach(() => {
  own = openStreams();
});

afterEach(() => {
  own.close();
  expect(own.problems).toEqual([]);
});

/** The active `noData` alarms, by arc. */
function silent(): (number | null)[] {
  const carriage = own.streams().stream('hall', 'c1', '');
  foldFresh(carriage, own.streams().fold);
  raiseSilenceAlarm(carriage, own.streams().fold);
  return carriage.alarms.atHand.filter(({ quantity, returnedAt }) => quantity === 'noData' && returnedAt === null).map(({ arc }) => arc);
}

// The rule: `noData` is raised after 5 s (common practice, no source) without an item while an arc was on, by arrival.
test('of two burning arcs, the one that stops sending is reported silent, until it sends again', () => {
  let seq = 0;
  const send = (arcs: readonly number[], times: number): void => {
    for (let k = 0; k < times; k += 1) {
      own.now += 100_000;
      own.take('weld/hall/c1/readings', JSON.stringify(arcs.map((arc) => ({ boot: 'b1', seq, arc, time: own.now / 1e3, current: 600, voltage: 31, travelSpeed: 500 }))));
      seq += 1;
    }
  };
  send([1, 2], 20);
  expect(silent()).toEqual([]);
  send([1], 49);
  expect(silent()).toEqual([]);
  send([1], 2);
  expect(silent()).toEqual([2]);
  send([1, 2], 1);
  expect(silent()).toEqual([]);
});
