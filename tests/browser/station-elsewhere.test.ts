import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closePages, hasBrowser, openBrowser, openPage } from './open-browser.js';
import { publish } from './send-readings.js';
import type { ServiceUnderTest } from './start-service.js';
import { startService } from './start-service.js';

// Invented: 600 A, 30 V at 10 mm/s over 500 mm, back to 0 at 50 mm/s with the arc out, and 200 mm from 0 again; one reading every 100 ms, the last of them now.
const until = 800;
const at = (seq: number): { readonly on: boolean; readonly travelSpeed: number; readonly travel: number } => {
  if (seq < 500) return { on: true, travelSpeed: 600, travel: seq };
  if (seq < 600) return { on: false, travelSpeed: -3000, travel: 500 - 5 * (seq - 500) };
  return { on: true, travelSpeed: 600, travel: seq - 600 };
};
const readings = (start: number): readonly object[] =>
  Array.from({ length: until }, (_, seq) => {
    const { on, travelSpeed, travel } = at(seq);
    return { boot: 'b1', seq, time: start + seq * 100, current: on ? 600 : 0, voltage: on ? 30 : 0, travelSpeed, travel };
  });

describe.skipIf(!hasBrowser)('an arc that is lit far from where it went out', () => {
  let service: ServiceUnderTest;
  let browser: Browser;
  beforeAll(async () => {
    [service, browser] = await Promise.all([startService(), openBrowser()]);
  });
  afterAll(async () => {
    await browser.close();
    await service.remove();
  });

  const weld = async (carriage: string): Promise<{ page: Page; complaints: string[] }> => {
    const topic = `weld/hall-a/${carriage}`;
    await publish(service.mqtt, [
      { topic: `${topic}/assignment`, payload: { seam: `${carriage}/L1`, run: 1, seamLength: 6000 } },
      { topic: `${topic}/readings`, payload: readings(Date.now() - until * 100) },
    ]);
    const opened = await openPage(browser, { viewport: { width: 1280, height: 800 }, locale: 'en' });
    await opened.page.goto(`${service.http}/#/station/hall-a/${carriage}`);
    return opened;
  };
  const runs = async (carriage: string): Promise<readonly object[]> => {
    const { items } = (await (await fetch(`${service.http}/api/runs?carriage=${carriage}&order=startedAt&direction=asc`)).json()) as { items: { assignment: { run: number }; attempt: number; litElsewhere?: boolean }[] };
    return items.map(({ assignment, attempt, litElsewhere }) => ({ run: assignment.run, attempt, litElsewhere }));
  };

  it('is asked for at the station, and one press makes the whole attempt the next run', async () => {
    const { page, complaints } = await weld('c1');
    await page.getByText('Arc started far from where it stopped. Is this c1/L1 · run 2?').waitFor();
    await expect.poll(async () => await runs('c1')).toEqual([{ run: 1, attempt: 1, litElsewhere: false }, { run: 1, attempt: 2, litElsewhere: true }]);
    await page.getByRole('button', { name: 'Yes, run 2' }).click();
    await expect.poll(async () => await runs('c1'), { timeout: 10_000 }).toEqual([{ run: 1, attempt: 1, litElsewhere: false }, { run: 2, attempt: 1, litElsewhere: false }]);
    await page.getByText('Is this c1/L1').waitFor({ state: 'detached' });
    await page.getByRole('heading', { level: 1, name: /c1\/L1 · run 2/ }).waitFor();
    expect(complaints).toEqual([]);
    await closePages(browser);
  });

  it('stays an attempt of the same run where that is what somebody says', async () => {
    const { page } = await weld('c2');
    await page.getByRole('button', { name: 'No, same run' }).click();
    await page.getByText('Is this c2/L1').waitFor({ state: 'detached' });
    expect(await runs('c2')).toEqual([{ run: 1, attempt: 1, litElsewhere: false }, { run: 1, attempt: 2, litElsewhere: true }]);
    await closePages(browser);
  });
});
