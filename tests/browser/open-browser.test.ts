import { describe, expect, it } from 'vitest';
import { hasBrowser } from './open-browser.js';
import { useFakeService } from './use-fake-service.js';

describe.skipIf(!hasBrowser)('a page that is used again', () => {
  const { service, newPage, closeAll } = useFakeService();

  it('knows nothing of the page before', async () => {
    const address = `${service.http}/#/alarms`;
    const first = await newPage({ choices: { language: 'zh' }, colorScheme: 'dark', viewport: { width: 500, height: 400 } });
    await first.page.addInitScript(() => { document.title = 'left behind'; });
    await first.page.clock.install({ time: new Date('2030-01-01T00:00:00Z') });
    await first.page.route('**/api/**', (route) => route.abort());
    await first.page.goto(address);
    await first.page.emulateMedia({ media: 'print' });
    await first.page.evaluate(() => { sessionStorage.setItem('own', 'left behind'); document.cookie = 'own=left-behind'; });
    await closeAll();

    const { page } = await newPage();
    await page.goto(address);
    const seen = await page.evaluate(async () => ({
      stored: [localStorage.length, sessionStorage.getItem('own'), document.cookie],
      width: window.innerWidth,
      media: [matchMedia('print').matches, matchMedia('(prefers-color-scheme: dark)').matches],
      clock: Math.abs(Date.now() - performance.timeOrigin) < 60_000,
      answered: (await fetch('/api/health')).status,
      title: document.title,
    }));
    expect(seen).toMatchObject({ stored: [0, null, ''], width: 1280, media: [false, false], clock: true, answered: 200 });
    expect(seen.title).not.toBe('left behind');
    // One beside it is another visitor.
    const second = await newPage();
    await page.evaluate(() => { localStorage.setItem('own', '1'); });
    await second.page.goto(address);
    expect(await second.page.evaluate(() => localStorage.getItem('own'))).toBeNull();
  });
});
