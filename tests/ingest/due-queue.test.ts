import { afterEach, beforeEach, expect, test } from 'vitest';
import type { Carriage } from '../../services/ingest/fold/carriage.js';
import { gatherNewestAlarms } from '../../services/ingest/writer/gather-alarms.js';
import { seededRandom } from '../model/seeded-random.js';
import { commit, hall } from './arrive.js';
import { openStreams } from './open-streams.js';
import type { OpenStreams } from './open-streams.js';

let own: OpenStreams;
beforeEach(() => { own = openStreams(); });
afterEach(() => { own.close(); });

const carriage = (name: string): Carriage => own.streams().stream(hall, name, '');

test('whatever is put in, put elsewhere and taken out, what is due is that whose time has come', () => {
  const { due } = own.streams();
  const names = Array.from({ length: 40 }, (_, at) => `c${at}`);
  const carriages = new Map(names.map((name) => [name, carriage(name)]));
  /** The plain model of the queue, without any order. */
  const times = new Map<string, number>();
  const random = seededRandom(17);
  for (let now = 0; now < 2_000; now += 1) {
    const name = random.pick(names);
    const dueAt = random.chance(0.2) ? Infinity : now + random.whole(0, 30);
    const one = carriages.get(name);
    if (one !== undefined) due.put(one, dueAt);
    if (dueAt === Infinity) times.delete(name);
    else times.set(name, dueAt);
    const expected = [...times].filter(([, at]) => at <= now).map(([taken]) => taken);
    expect(due.isDue(now)).toBe(expected.length > 0);
    expect(due.take(now).map((taken) => taken.carriage).sort()).toEqual(expected.sort());
    for (const taken of expected) times.delete(taken);
    expect(due.size()).toBe(times.size);
  }
});

test('a commit touches the carriages that are in it and those that are due, and no other', () => {
  const send = (name: string, seq: number): void => {
    own.now += 100_000;
    commit(own, () => { own.take(`weld/${hall}/${name}/readings`, JSON.stringify([{ boot: 'b', seq, time: own.now / 1e3, current: 0, voltage: 0 }])); });
  };
  for (let seq = 0; seq < 20; seq += 1) for (const name of ['other', 'busy']) send(name, seq);
  // By then its records are written and its mark is published.
  for (let seq = 20; seq < 60; seq += 1) send('busy', seq);
  const other = own.streams().all.get(`${hall}/other/`);
  let touched = 0;
  // The test store reads the intake of each carriage.
  for (const part of ['fold', 'runs', 'alarms', 'outbox'] as const) {
    const held = other?.[part];
    Object.defineProperty(other, part, { get: () => { touched += 1; return held; } });
  }
  for (let seq = 60; seq < 80; seq += 1) {
    gatherNewestAlarms(own.streams());
    send('busy', seq);
  }
  expect(touched).toBe(0);
  send('other', 20);
  expect(touched).toBeGreaterThan(0);
});
