import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closePages, hasBrowser, openBrowser, openPage } from './open-browser.js';
import { sendSteadyRun } from './send-readings.js';
import { startService } from './start-service.js';
import type { ServiceUnderTest } from './start-service.js';

/** A machine that tests is a busy one. */
const eventually = <T>(look: () => T | Promise<T>) => expect.poll(look, { timeout: 15_000 });

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
    await closePages(browser);
  });

  it('lists a run while the page is open, with its figures, and keeps search and filters in the address', async () => {
    const { page, complaints } = await openPage(browser);
    await page.goto(`${service.http}/#/runs`);
    id = await sendSteadyRun(service, 'c1', 'DK-0417/L2');
    await sendSteadyRun(service, 'c2', longSeam, { simulated: true });
    const row = page.getByRole('row', { name: /DK-0417\/L2/ });
    await row.getByText('finished').waitFor();
    // See send-readings.ts for the source of the figures; without a procedure nothing is judged.
    expect((await row.innerText()).replace(/\s+/g, ' ').trim()).toMatch(/^finished DK-0417\/L2 1 c1 hall-a \d{4}-\d\d-\d\d \d\d:\d\d:\d\d 550\.9 1\.964 not judged: the job names no procedure complete/);
    expect(await row.getByText('simulated').count()).toBe(0);
    expect(await page.getByRole('row', { name: new RegExp(longSeam) }).getByText('simulated').count()).toBe(1);
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);

    const rows = page.locator('.runs tbody tr');
    await page.getByLabel('Search seam and carriage').fill('dk l2');
    await page.getByLabel('Search seam and carriage').press('Enter');
    await eventually(() => page.url()).toContain('#/runs?search=dk+l2');
    await eventually(() => rows.count()).toBe(1);
    await page.getByLabel('Search seam and carriage').fill('C2');
    await page.getByRole('button', { name: 'Show', exact: true }).click();
    await eventually(() => page.locator('.runs tbody th').allInnerTexts()).toEqual([longSeam]);
    await page.locator('select[name=state]').selectOption('welding');
    await page.getByRole('heading', { name: 'No runs match' }).waitFor();
    await page.goBack();
    await eventually(() => rows.count()).toBe(1);
    expect(await page.getByLabel('Search seam and carriage').inputValue()).toBe('C2');
    await page.goBack();
    await eventually(() => page.locator('.runs tbody th').allInnerTexts()).toEqual(['DK-0417/L2']);
    await page.getByRole('link', { name: 'Show all runs' }).click();
    await eventually(() => rows.count()).toBe(2);
    await page.getByLabel('Started to').fill('2020-02-29');
    await page.getByLabel('Started to').press('Enter');
    await page.getByRole('heading', { name: 'No runs match' }).waitFor();
    expect(page.url()).toContain('to=2020-02-29');
    await page.goto(`${service.http}/#/runs?seam=${encodeURIComponent('DK-0417/L2')}&site=hall-a&assigned=true&from=2020-01-01`);
    await eventually(() => page.locator('.runs tbody th').allInnerTexts()).toEqual(['DK-0417/L2']);
    expect(complaints).toEqual([]);
    await closePages(browser);
  });

  it('folds its filters away on a narrow screen, and says in one line which are set', async () => {
    const { page, complaints } = await openPage(browser, { viewport: { width: 390, height: 844 } });
    await page.goto(`${service.http}/#/runs?state=finished&carriage=c1`);
    const fold = page.locator('.folded-filters > summary');
    expect(await fold.innerText()).toBe('Filter and sort: Carriage: c1, finished');
    // The first run is on the first screen.
    const box = await page.locator('.runs tbody tr').first().boundingBox();
    expect((box?.y ?? Infinity) + (box?.height ?? 0)).toBeLessThan(844);
    expect(await page.locator('select[name=state]').isVisible()).toBe(false);
    await fold.focus();
    await page.keyboard.press('Enter');
    await page.locator('select[name=state]').selectOption('');
    await eventually(() => page.url()).toMatch(/runs\?carriage=c1$/);
    // It stays open while somebody is at it, and what is folded away is not lost by a search.
    expect(await page.locator('select[name=state]').isVisible()).toBe(true);
    await fold.press('Enter');
    await page.getByLabel('Search seam and carriage').fill('dk');
    await page.getByLabel('Search seam and carriage').press('Enter');
    await eventually(() => page.url()).toContain('carriage=c1');
    expect(page.url()).toContain('search=dk');
    await page.getByRole('link', { name: 'Show all runs' }).click();
    await eventually(() => fold.innerText()).toBe('Filter and sort');
    expect(complaints).toEqual([]);
    await closePages(browser);
  });

  it('leads to the page of the run; it says that nothing was judged, and why', async () => {
    const { page, complaints } = await openPage(browser);
    await page.goto(`${service.http}/#/runs?carriage=c1`);
    await page.locator('.runs tbody a').click();
    await page.getByRole('heading', { name: 'DK-0417/L2, run 1' }).waitFor();
    expect(page.url()).toContain(`#/run/${id}`);
    await eventually(async () => (await page.locator('.findings').innerText()).replace(/\s+/g, ' ')).toContain('Not judged: the job names no procedure Data complete');
    const keys = (await page.locator('.key-figures').innerText()).replace(/\s+/g, ' ');
    expect(keys).toContain('Heat input, whole run 1.964 kJ/mm with tabs and crater Length 550.9 mm Arc time 60.1 s Travel speed, mean 550 mm/min Current, mean 600 A Voltage, mean 30.0 V');
    const text = (await page.locator('main').innerText()).replace(/\s+/g, ' ');
    expect(text).toContain('Energy 1081.8 kJ');
    expect(text).toContain('No restart: no arc was lost within the run.');
    expect(text).toContain('No data gap: the data is complete.');
    expect(text).toContain('Not judged, so there are no excursions: the job names no procedure.');
    await eventually(() => page.locator('.panels').innerText()).toContain('No limits shown: the job names no procedure.');
    await page.getByText('No alarms in this run.').waitFor();
    expect(complaints).toEqual([]);
    await closePages(browser);
  });

  it('marks heat input from averages of an arc that alternates, and says of an open run whose arc is out that it is not closed', async () => {
    const { page, complaints } = await openPage(browser, { viewport: { width: 390, height: 844 } });
    // Invented: a run as recorded, but for what is marked and for being open; its carriage sends no arc.
    const change = (run: { readonly flags: readonly string[] }): object => ({ ...run, state: 'welding', endedAt: null, flags: [...run.flags, 'averageOfAlternating'] });
    await page.route(`**/api/runs/${id}`, async (route) => {
      const response = await route.fetch();
      await route.fulfill({ response, json: change((await response.json()) as { flags: string[] }) });
    });
    await page.route('**/api/runs?**', async (route) => {
      const response = await route.fetch();
      const list = (await response.json()) as { items: { flags: string[] }[] };
      await route.fulfill({ response, json: { ...list, items: list.items.map(change) } });
    });
    await page.goto(`${service.http}/#/run/${id}`);
    const figure = page.locator('.key-figures > div', { hasText: 'Heat input' }).first();
    await figure.locator('.doubtful').waitFor();
    expect(await figure.locator('.mark').count()).toBe(1);
    expect(Number(await figure.locator('.doubtful').evaluate((own) => getComputedStyle(own).fontWeight))).toBeLessThan(600);
    await page.getByText('arc off, not closed yet').first().waitFor();
    await page.goto(`${service.http}/#/runs`);
    await page.locator('.runs tbody tr').first().getByText('arc off, not closed yet').waitFor();
    expect(await page.locator('.runs tbody tr').first().locator('[data-label^="Heat input"] .mark').count()).toBe(1);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    expect(complaints).toEqual([]);
    await closePages(browser);
  });

  it('moves the cursor by its slider and reads out all four traces', async () => {
    const { page } = await openPage(browser);
    await page.goto(`${service.http}/#/run/${id}`);
    await eventually(() => page.locator('.panel canvas').count()).toBe(4);
    const slider = page.getByLabel('Cursor');
    await slider.focus();
    for (let step = 0; step < 3; step += 1) await page.keyboard.press('PageUp');
    await eventually(() => slider.getAttribute('aria-valuetext')).toMatch(/min:s: Current arc 1 600.A, Voltage arc 1 30\.0.V, Travel speed carriage 550.mm\/min, Heat input arc 1 1\.964.kJ\/mm/);
    const lines = await page.locator('.u-cursor-x').evaluateAll((all) => all.map((line) => Math.round(line.getBoundingClientRect().left)));
    expect(lines).toHaveLength(4);
    expect(new Set(lines).size).toBe(1);
    await page.getByLabel('travel', { exact: true }).check();
    await page.getByText('Travel from start, mm').first().waitFor();
    await eventually(() => page.url()).toContain('axis=travelled');
    await page.goBack();
    await eventually(() => page.getByLabel('time', { exact: true }).isChecked()).toBe(true);
    await closePages(browser);
  });

  it('sorts by a press on a column, says where days are turned round, and comes Back to the place where it was', async () => {
    const { page, complaints } = await openPage(browser, { viewport: { width: 1280, height: 300 } });
    await page.goto(`${service.http}/#/runs`);
    await eventually(() => page.locator('.runs tbody tr').count()).toBe(2);
    await page.getByRole('button', { name: 'Seam' }).click();
    await eventually(() => page.url()).toContain('order=seam&direction=asc');
    await eventually(() => page.locator('.runs tbody th').allInnerTexts()).toEqual(['DK-0417/L2', longSeam]);
    await page.getByRole('button', { name: 'Seam' }).click();
    await eventually(() => page.locator('.runs tbody th').allInnerTexts()).toEqual([longSeam, 'DK-0417/L2']);
    expect(await page.locator('th[aria-sort]').innerText()).toContain('Seam');
    await page.locator('select[name=period]').selectOption('today');
    await eventually(() => page.locator('.runs tbody tr').count()).toBe(2);
    await page.locator('select[name=period]').selectOption('yesterday');
    await page.getByRole('heading', { name: 'No runs match' }).waitFor();
    await page.goto(`${service.http}/#/runs?from=2026-11-26&to=2026-11-20`);
    await page.getByRole('alert').getByText('there are no days between').waitFor();
    await page.goto(`${service.http}/#/runs?carriage=c1`);
    await page.locator('.runs tbody a').waitFor();
    await page.locator('.runs tbody a').scrollIntoViewIfNeeded();
    const down = await page.evaluate(() => window.scrollY);
    expect(down).toBeGreaterThan(20);
    await page.locator('.runs tbody a').click();
    await page.getByRole('heading', { name: 'DK-0417/L2, run 1' }).waitFor();
    await eventually(() => page.evaluate(() => window.scrollY)).toBe(0);
    await page.goBack();
    await page.locator('.runs tbody a').waitFor();
    await eventually(() => page.evaluate(() => window.scrollY)).toBe(down);
    expect(complaints).toEqual([]);
    await closePages(browser);
  });
});
