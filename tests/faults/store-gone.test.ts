import { expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { shown, underSeed } from './outcome.js';
import { storeGone } from './store-gone.js';

const count = countFrom('GONE', { soon: 2, full: 8 });

it(`acknowledges nothing once its folder or file is deleted or replaced, says so, and continues after a start (${count} times)`, { timeout: 300_000 + count * 60_000 }, async () => {
  const outcome = await underSeed((seed) => storeGone(count, seed));
  expect(outcome.problems, shown(outcome)).toEqual([]);
});
