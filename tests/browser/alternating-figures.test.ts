import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser, openPage, closePages } from './open-browser.js';
import { finishedRun, publish } from './send-readings.js';
import { startService } from './start-service.js';
import type { ServiceUnderTest } from './start-service.js';

const eventually = <T>(look: () => T | Promise<T>) => expect.poll(look, { timeout: 15_000 });
const seconds = 8;

/**
 * Blocks at 1 ms. Arc 1 alternates at 50 Hz: +600 A for 12 ms and −500 A for 8 ms, +32 V for 10 ms and −32 V for 10 ms. Arc 2 is direct: 580 and 620 A in
 * turn, and 35 V at the power source. By hand, arc 1: RMS current √(0.6 · 600² + 0.4 · 500²) = 562.139 A, RMS voltage 32 V, above zero for 12 of 20 ms,
 * offset 0.6 · 600 − 0.4 · 500 = 160 A, power (10 · 600 · 32 − 2 · 600 · 32 + 8 · 500 · 32) / 20 = 14,080 W, over 562.139 A · 32 V: 0.782727. Arc 2: mean
 * 600 A, 20 A to either side of it: 3.333 %; 10 mΩ · 600 A = 6 V are lost in the cables, which leaves 29 V.
 */
function blocks(): object[][] {
  const begin = Date.now() - 20_000;
  const samples = (at: (ms: number) => number): number[] => Array.from({ length: 100 }, (_, ms) => at(ms));
  const lit = Array.from({ length: seconds * 10 }, (_, seq) => {
    const one = { boot: 'b1', seq, time: begin + seq * 100, interval: 1, travelSpeed: 600 };
    return [
      { ...one, arc: 1, current: samples((ms) => (ms % 20 < 12 ? 600 : -500)), voltage: samples((ms) => (ms % 20 < 10 ? 32 : -32)) },
      { ...one, arc: 2, current: samples((ms) => (ms % 2 === 0 ? 580 : 620)), voltage: samples(() => 35) },
    ];
  });
  const dark = Array.from({ length: 15 }, (_, place) => [1, 2].map((arc) => ({ boot: 'b1', seq: seconds * 10 + place, time: begin + seconds * 1000 + place * 100, arc, current: 0, voltage: 0, travelSpeed: 0 })));
  return [...lit, ...dark];
}

describe.skipIf(!hasBrowser)('a run of an arc on alternating current beside one on direct current', () => {
  let service: ServiceUnderTest;
  let browser: Browser;
  let id = '';
  beforeAll(async () => {
    service = await startService();
    browser = await openBrowser();
    const sensors = { arcs: [{ arc: 1, signedCurrent: true, signedVoltage: true }, { arc: 2, voltagePickup: 'source', cableResistance: 10 }], by: 'qa-2' };
    const declared = await fetch(`${service.http}/api/carriages/hall-a/c1/sensors`, { method: 'PUT', headers: { 'content-type': 'application/json' }, body: JSON.stringify(sensors) });
    expect(declared.status).toBeLessThan(300);
    const topic = 'weld/hall-a/c1';
    await publish(service.mqtt, [
      { topic: `${topic}/assignment`, payload: { seam: 'DK-0417/L2', run: 1 } },
      ...blocks().map((payload) => ({ topic: `${topic}/readings`, payload })),
      { topic: `${topic}/assignment`, payload: null },
    ]);
    id = await finishedRun(service.http, 'c1');
  });
  afterAll(async () => {
    await browser.close();
    await service.remove();
  });

  const open = async (language: string): Promise<Page> => {
    const { page } = await openPage(browser, { choices: { language } });
    await page.goto(`${service.http}/#/run/${id}`);
    await page.locator('table.figures').last().waitFor();
    return page;
  };
  /** The cells of a row of the table of arcs: arc 1, arc 2, unit. */
  const rowOf = async (page: Page, name: string): Promise<string[]> => await page.locator('table.figures').last().locator('tr', { has: page.getByRole('rowheader', { name, exact: true }) }).first().locator('td').allInnerTexts();

  it('lists the figures that one of the arcs has', async () => {
    const page = await open('en');
    expect(await rowOf(page, 'AC current, RMS')).toEqual(['562', '', 'A']);
    expect(await rowOf(page, 'AC voltage, RMS')).toEqual(['32.0', '', 'V']);
    expect(await rowOf(page, 'AC balance, share positive')).toEqual(['60.0', '', '%']);
    expect(await rowOf(page, 'DC offset of the current')).toEqual(['160.0', '', 'A']);
    expect(await rowOf(page, 'Power factor')).toEqual(['0.783', '', '']);
    expect(await rowOf(page, 'Current ripple')).toEqual(['', '3.3', '%']);
    expect(await rowOf(page, 'Voltage before cable correction, mean')).toEqual(['', '35.0', 'V']);
    expect(await rowOf(page, 'Voltage, mean')).toEqual(['32.0', '29.0', 'V']);
    // Current and voltage are the same in the weld zone as in all of the run.
    expect(await rowOf(page, 'mean in the weld zone')).toEqual(['562', '600', 'A']);
    // That an arc is not of the other kind is no value that it misses.
    const missing = await page.locator('section', { has: page.getByRole('heading', { name: 'Missing values' }) }).last().innerText();
    expect(missing).toContain('Wire feed speed');
    expect(missing).not.toMatch(/AC |offset|factor|ripple|cable correction|in the weld zone/);
    await closePages(browser);
  });

  it('leads from each of them to where it comes from', async () => {
    const page = await open('en');
    const dialog = page.getByRole('dialog');
    for (const [label, title, told] of [
      ['0.783', 'Power factor, Arc 1', /energy · 1000 ⁄ \(voltageRms · currentRms · arcTime\).*voltageRms = 32\S* V · AC voltage, RMS, Arc 1/],
      ['60.0', 'AC balance, share positive, Arc 1', /share of the arc time with current above 0/],
      ['3.3', 'Current ripple, Arc 2', /m the mean of the sample’s 100 ms/],
      ['35.0', 'Voltage before cable correction, mean, Arc 2', /before the drop in the welding cable was taken off/],
      ['562', 'mean in the weld zone, Current, arc 1', /over the samples in the weld zone/],
    ] as const) {
      const row = label === '562' ? 'mean in the weld zone' : title.replace(/, Arc \d$/, '');
      await page.locator('table.figures').last().locator('tr', { has: page.getByRole('rowheader', { name: row, exact: true }) }).first().getByRole('button', { name: label, exact: true }).click();
      await dialog.getByRole('heading', { name: `${title}: where it comes from` }).waitFor();
      await eventually(async () => (await dialog.innerText()).replace(/\s+/g, ' ')).toMatch(told);
      await page.keyboard.press('Escape');
      await eventually(() => dialog.count()).toBe(0);
    }
    await closePages(browser);
  });

  it('names them in Chinese', async () => {
    const page = await open('zh');
    for (const name of ['交流电流有效值', '交流电压有效值', '交流平衡，正半波占比', '电流的直流偏置', '功率因数', '电流纹波', '电缆修正前的电压，平均', '焊接段平均']) expect((await rowOf(page, name)).length, name).toBe(3);
    await closePages(browser);
  });
});

describe.skipIf(!hasBrowser)('a run of readings every 100 ms', () => {
  it('says why it has no ripple, and has no rows of alternating current', async () => {
    const service = await startService();
    const browser = await openBrowser();
    try {
      const begin = Date.now() - 20_000;
      const readings = Array.from({ length: 110 }, (_, seq) => ({ boot: 'b1', seq, time: begin + seq * 100, ...(seq < 95 ? { current: 600, voltage: 30, travelSpeed: 600 } : { current: 0, voltage: 0, travelSpeed: 0 }) }));
      await publish(service.mqtt, [{ topic: 'weld/hall-a/c1/readings', payload: readings }]);
      const { page } = await openPage(browser);
      await page.goto(`${service.http}/#/runs`);
      await page.locator('.runs tbody a').first().click();
      await eventually(async () => (await page.locator('.details').innerText()).replace(/\s+/g, ' ')).toMatch(/Current ripple not detectable from 100 ms readings/);
      expect(await page.getByRole('rowheader', { name: /AC |Power factor|cable correction/ }).count()).toBe(0);
    } finally {
      await browser.close();
      await service.remove();
    }
  });
});
