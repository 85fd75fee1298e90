import { expect, it } from 'vitest';
import { hasMosquitto } from '../ingest/mqtt/start-mosquitto.js';
import { killLoop } from './kill-loop.js';
import { countFrom, shown, underSeed } from './outcome.js';

const kills = countFrom('OUTSIDE_KILLS', 20);

it.skipIf(!hasMosquitto)(`survives ${kills} kills on an outside broker: what that broker acknowledged is stored once`, { timeout: 300_000 + kills * 20_000 }, async () => {
  const outcome = await underSeed((seed) => killLoop(kills, seed, 'outside broker'));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});
