import { expect, test } from 'vitest';
import type { Clock } from '../../services/ingest/clock.js';
import { followedClock, stepInWords } from '../../services/ingest/writer/followed-clock.js';

test('a wall clock that is set is seen, forward and back, and one that runs on is not', () => {
  let wall = Date.UTC(2026, 10, 25) * 1e3;
  let steady = 5e12;
  const clock: Clock = { now: () => wall, steady: () => steady };
  const go = (by: number, set = 0): void => {
    steady += by;
    wall += by + set;
  };
  const followed = followedClock(clock);
  const step = (): number => followed.step();
  go(600e6 + 0.25);
  expect(step()).toBe(0);
  // A step of less than a second is ignored, but small steps add up.
  go(1e6, -600_000);
  expect(step()).toBe(0);
  expect(followed.now()).toBe(wall);
  go(1e6, -600_000);
  expect(step()).toBe(-1_200_000);
  // Until it is followed, time goes on as if nothing had been set.
  const before = wall;
  go(50_000, -3600e6);
  expect(followed.now()).toBe(Math.round(before + 50_000));
  expect([step(), step()]).toEqual([-3600e6, 0]);
  expect(followed.now()).toBe(wall);
  go(50_000, 7200e6);
  expect(step()).toBe(7200e6);
  go(0.4, -10 * 365 * 86_400e6);
  expect(step()).toBe(-10 * 365 * 86_400e6);
});

test('is reported in words', () => {
  expect([stepInWords(-3600e6), stepInWords(20e6), stepInWords(-1.25e6)]).toEqual(['3,600 s back', '20 s forward', '1.3 s back']);
});
