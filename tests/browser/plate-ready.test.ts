import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { addProcedure } from './import-run.js';
import { closePages, hasBrowser, openBrowser, openPage } from './open-browser.js';
import { publish } from './send-readings.js';
import { startService } from './start-service.js';
import type { ServiceUnderTest } from './start-service.js';

const eventually = <T>(look: () => T | Promise<T>) => expect.poll(look, { timeout: 15_000 });

const procedure = { id: 'SA-12', title: '20 mm butt', process: '121', runGroups: [{ runs: [1, 9], preheat: { min: 100 }, interpassTemperature: { max: 150 }, arcs: [{ arc: 1, current: { min: 580, max: 680 } }] }] };

describe.skipIf(!hasBrowser)('when the plate is ready, at the station', () => {
  let service: ServiceUnderTest;
  let browser: Browser;
  beforeAll(async () => {
    service = await startService({ SEAMWARDEN_TIME_ZONE: 'Europe/Berlin', SEAMWARDEN_AMBIENT: '20' });
    browser = await openBrowser();
    await addProcedure(service.http, procedure);
    await addProcedure(service.http, { ...procedure, id: 'SA-13', runGroups: [{ runs: [1, 9], arcs: procedure.runGroups[0]?.arcs }] });
  });
  afterEach(async () => { await closePages(browser); });
  afterAll(async () => {
    await browser.close();
    await service.remove();
  });

  const open = async (carriage: string, own: { readonly language?: string; readonly procedure?: string } = {}): Promise<Page> => {
    await publish(service.mqtt, [{ topic: `weld/hall-a/${carriage}/assignment`, payload: { seam: `S-${carriage}`, run: 2, procedure: own.procedure ?? 'SA-12' } }]);
    const { page } = await openPage(browser, { choices: { language: own.language ?? 'en' } });
    await page.goto(`${service.http}/#/station/hall-a/${carriage}`);
    await page.locator('.what-next').waitFor();
    return page;
  };
  const enter = async (carriage: string, value: number, at: number): Promise<void> => {
    const answer = await fetch(`${service.http}/api/carriages/hall-a/${carriage}/temperatures`, {
      method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ kind: 'interpass', value, place: 'ahead', by: 'Kim', at: new Date(at).toISOString() }),
    });
    expect(answer.status, await answer.text()).toBeLessThan(300);
  };
  const told = async (page: Page): Promise<string> => (await page.locator('.between').innerText()).replace(/\s+/g, ' ');

  it('is a time of day with the minutes to go, called an estimate: 300 °C, and 252 °C 120 s later', async () => {
    // In a shop of 20 °C, k = ln(280/232)/120 s: 150 °C ln(232/130)/k = 369.601 s after the second, 100 °C ln(232/80)/k = 679.414 s after it. Measured 40 s
    // ago: 329.6 s and 639.4 s to go, so 6 min, nobody starts too early, and 10 min, nobody starts too late.
    const second = Date.now() - 40_000;
    const clock = (at: number): string => new Date(at).toLocaleTimeString('en-GB', { timeZone: 'Europe/Berlin', hour: '2-digit', minute: '2-digit' });
    const ready = clock(Math.ceil((second + 369_601) / 60_000) * 60_000);
    const cold = clock(second + 679_414);
    const page = await open('c1');
    await enter('c1', 300, second - 120_000);
    await eventually(() => told(page)).toContain('No estimate of when the plate is ready: only one temperature measured ahead since the arc went out – measure again.');
    await enter('c1', 252, second);
    await eventually(() => told(page)).toContain(`Estimate: cooled to 150 °C at ${ready}, in 6 min. Estimate: down to 100 °C at ${cold}, in 10 min – weld before that or heat again. An estimate from the last two measurements, no measurement and no release.`);
    await page.getByRole('button', { name: 'Plate temperature …' }).first().click();
    await eventually(async () => (await page.locator('.sheet').innerText()).replace(/\s+/g, ' ')).toContain(`cooled to 150 °C at ${ready}, in 6 min.`);
    await closePages(browser);
    const zh = await open('c1', { language: 'zh' });
    await eventually(() => told(zh)).toContain(`估计：${ready}（6 min 后）冷却到 150 °C。`);
  });

  it('is not told where nobody measured, whether the procedure has limits or not', async () => {
    const page = await open('c2');
    await eventually(() => told(page)).toContain('Interpass temperature (at most 150 °C): not measured in time');
    expect(await told(page)).not.toMatch(/estimate/i);
    await closePages(browser);
    expect(await told(await open('c3', { procedure: 'SA-13' }))).not.toMatch(/estimate|plate temperature/i);
  });

  it.each([
    ['the plate does not cool', 'c4', 'SA-12', 200, 205, 'the last two temperatures do not fall'], ['the plate is at the temperature of the shop', 'c5', 'SA-12', 25, 19, 'the plate is at the temperature of the shop'],
    ['the procedure has no limits', 'c6', 'SA-13', 300, 252, 'the procedure gives no such limit'],
  ] as const)('says why not where %s', async (_, carriage, procedureId, first, second, why) => {
    const page = await open(carriage, { procedure: procedureId });
    await enter(carriage, first, Date.now() - 160_000);
    await enter(carriage, second, Date.now() - 40_000);
    await eventually(() => told(page)).toContain(`No estimate of when the plate is ready: ${why}.`);
  });
});
