import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser, openPage } from './open-browser.js';
import { sendSteadyRun } from './send-readings.js';
import { startService } from './start-service.js';
import type { ServiceUnderTest } from './start-service.js';

const longSeam = `S-${'long'.repeat(31)}`;

describe.skipIf(!hasBrowser)('the list of runs and the page of a run', () => {
  let service: ServiceUnderTest;
  let browser: Browser;
  let id = '';
  beforeAll(async () => {
    service = await startService();
    browser = await openBrowser();
  });
  afterAll(async () => {
    await browser.close();
    await service.remove();
  });

  it('says how runs come about while there is none, and that a run does not exist', async () => {
    const { page } = await openPage(browser);
    await page.goto(`${service.http}/#/runs`);
    await page.getByRole('heading', { name: 'No runs yet' }).waitFor();
    await page.goto(`${service.http}/#/run/none`);
    await page.getByRole('heading', { name: 'There is no such run' }).waitFor();
    await page.context().close();
  });

  it('lists a run while the page is open, with its figures, and filters by the address', async () => {
    const { page, complaints } = await openPage(browser);
    await page.goto(`${service.http}/#/runs`);
    id = await sendSteadyRun(service, 'c1', 'DK-0417/L2');
    await sendSteadyRun(service, 'c2', longSeam, { simulated: true });
    const row = page.getByRole('row', { name: /DK-0417\/L2, run 1/ });
    await row.getByText('finished').waitFor();
    // See send-readings.ts for the source of the figures.
    expect(await row.innerText()).toMatch(/60\.1\s+550\.9\s+550\s+1\.964/);
    expect(await row.getByText('simulated').count()).toBe(0);
    expect(await page.getByRole('row', { name: new RegExp(longSeam) }).getByText('simulated').count()).toBe(1);
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);

    await page.getByLabel('Carriage').fill('c2');
    await page.getByLabel('Carriage').press('Enter');
    await expect.poll(() => page.url()).toContain('#/runs?carriage=c2');
    await expect.poll(() => page.locator('.runs tbody tr').count()).toBe(1);
    await page.getByLabel('State').selectOption('welding');
    await page.getByRole('heading', { name: 'No run fits these filters' }).waitFor();
    await page.goBack();
    await expect.poll(() => page.locator('.runs tbody tr').count()).toBe(1);
    await page.goto(`${service.http}/#/runs?seam=${encodeURIComponent('DK-0417/L2')}`);
    await expect.poll(() => page.locator('.runs tbody th').allInnerTexts()).toEqual(['DK-0417/L2, run 1']);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it('shows the figures of the run, with units and method, what is absent and why', async () => {
    const { page, complaints } = await openPage(browser);
    await page.goto(`${service.http}/#/run/${id}`);
    await page.getByRole('heading', { name: 'DK-0417/L2, run 1' }).waitFor();
    const keys = (await page.locator('.key-figures').innerText()).replace(/\s+/g, ' ');
    expect(keys).toContain('Heat input 1.964 kJ/mm Length 550.9 mm Arc time 60.1 s Travel speed 550 mm/min mean Current 600 A mean Voltage 30.0 V mean');
    const text = (await page.locator('.details').innerText()).replace(/\s+/g, ' ');
    expect(text).toContain('Energy 1081.8 kJ');
    expect(text).toContain('average values');
    expect(text).toMatch(/extinctions readings at \S+ ms cannot show them/);
    expect(text).toContain('the assignment names no procedure');
    expect(text).toContain('None: no arc went out within the run.');
    expect(text).toContain('None: the data is complete.');
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it('links one cursor through four traces, and fetches finer data for a part', async () => {
    const { page, complaints } = await openPage(browser);
    const asked: URLSearchParams[] = [];
    page.on('request', (request) => {
      const url = new URL(request.url());
      if (url.pathname.endsWith('/trace')) asked.push(url.searchParams);
    });
    await page.goto(`${service.http}/#/run/${id}`);
    await expect.poll(() => page.locator('.panel canvas').count()).toBe(4);
    const slider = page.getByLabel('Cursor');
    await slider.focus();
    for (let step = 0; step < 3; step += 1) await page.keyboard.press('PageUp');
    await expect.poll(() => slider.getAttribute('aria-valuetext')).toMatch(/min:s: Current arc 1 600.A, Voltage arc 1 30\.0.V, Travel speed carriage 550.mm\/min, Heat input arc 1 1\.964.kJ\/mm/);
    const lines = await page.locator('.u-cursor-x').evaluateAll((all) => all.map((line) => Math.round(line.getBoundingClientRect().left)));
    expect(lines).toHaveLength(4);
    expect(new Set(lines).size).toBe(1);

    const drawing = await page.locator('.u-over').first().boundingBox();
    if (drawing === null) throw new Error('there is no drawing');
    const middle = drawing.y + drawing.height / 2;
    await page.mouse.move(drawing.x + drawing.width * 0.25, middle);
    await page.mouse.down();
    await page.mouse.move(drawing.x + drawing.width * 0.5, middle, { steps: 5 });
    await page.mouse.up();
    await expect.poll(() => asked.at(-1)?.get('from') ?? null).not.toBeNull();
    const [from, to] = [Number(asked.at(-1)?.get('from')), Number(asked.at(-1)?.get('to'))];
    expect(from).toBeGreaterThan(14);
    expect(from).toBeLessThan(16);
    expect(to).toBeGreaterThan(29);
    expect(to).toBeLessThan(32);
    expect(Number(asked.at(-1)?.get('points'))).toBeGreaterThan(500);
    expect(page.url()).toContain(`from=${asked.at(-1)?.get('from') ?? ''}`);

    await page.getByLabel('mm travelled').check();
    await expect.poll(() => asked.at(-1)?.get('axis')).toBe('travelled');
    await page.getByText('Travelled, mm').first().waitFor();
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
