import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { figurePage } from './figure-page.js';

it('the docs list the figures as they are defined', () => {
  expect(readFileSync(new URL('../../../shared/weld/figures/README.md', import.meta.url), 'utf8')).toBe(figurePage());
});
