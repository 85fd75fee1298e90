import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closePages, hasBrowser, openBrowser, openPage } from './open-browser.js';
import { publish } from './send-readings.js';
import type { ServiceUnderTest } from './start-service.js';
import { startService } from './start-service.js';

/** Invented: 5 s of a steady weld by a clock that is `ahead` seconds ahead, the last reading of it now. */
const readings = (ahead: number): readonly object[] => Array.from({ length: 50 }, (_, seq) => ({ boot: 'b1', seq, time: Date.now() + (ahead - 5) * 1000 + seq * 100, current: 600, voltage: 30, travelSpeed: 550 }));

describe.skipIf(!hasBrowser)('a run by a clock that is wrong', () => {
  let service: ServiceUnderTest;
  let browser: Browser;
  beforeAll(async () => {
    [service, browser] = await Promise.all([startService(), openBrowser()]);
  });
  afterAll(async () => {
    await browser.close();
    await service.remove();
  });

  // 20.5 min ahead when sent: the offset is arrival less device time, and arriving may take up to 30 s here.
  it.each([['ahead', 1230, 'Carriage clock is 20 min ahead'], ['right', 0, null]] as const)('says so where its times stand: %s', async (carriage, ahead, words) => {
    await publish(service.mqtt, [{ topic: `weld/hall-a/${carriage}/assignment`, payload: { seam: `${carriage}/L1`, run: 1 } }, { topic: `weld/hall-a/${carriage}/readings`, payload: readings(ahead) }]);
    const runOf = async (): Promise<string | undefined> => {
      const { items } = (await (await fetch(`${service.http}/api/runs?carriage=${carriage}`)).json()) as { items: { id: string }[] };
      return items[0]?.id;
    };
    await expect.poll(runOf, { timeout: 15_000 }).toBeDefined();
    const { page } = await openPage(browser, { locale: 'en' });
    await page.goto(`${service.http}/#/run/${(await runOf()) ?? ''}`);
    await page.getByRole('heading', { level: 1, name: `${carriage}/L1` }).waitFor();
    const clock = page.locator('.run-heading').getByText(/Carriage clock is/);
    if (words === null) {
      // As long as it takes where there is something to say.
      await page.waitForTimeout(2_000);
      expect(await clock.count()).toBe(0);
    } else expect((await clock.innerText({ timeout: 10_000 })).replaceAll('\u00a0', ' ')).toContain(words);
    await closePages(browser);
  });
});
