import { describe, expect, it } from 'vitest';
import { hasBrowser } from './open-browser.js';
import { runAxe } from './run-axe.js';
import { useFakeService } from './use-fake-service.js';

describe.skipIf(!hasBrowser)('what axe-core finds', () => {
  const { newPage } = useFakeService();

  it('is found in light and in dark, and the page is light again afterwards', async () => {
    const { page } = await newPage();
    const shown = async (style: string): Promise<string[]> => {
      await page.setContent(`<!doctype html><html lang="en"><title>t</title><style>p { color: #000; background: #fff } ${style}</style><main><h1>h</h1><p>text</p></main>`);
      const lines = await runAxe(page);
      expect(await page.evaluate(() => matchMedia('(prefers-color-scheme: dark)').matches)).toBe(false);
      return lines.map((line) => line.replace(/ <.*/s, ''));
    };
    expect(await shown('')).toEqual([]);
    expect(await shown('@media (prefers-color-scheme: dark) { p { background: #333 } }')).toEqual(['in dark: color-contrast:']);
    expect(await shown('@media (prefers-color-scheme: light) { p { background: #333 } }')).toEqual(['color-contrast:']);
  });
});
