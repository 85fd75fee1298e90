import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { json } from '../api/announced.js';
import { firstStart, madeRun } from '../api/made-run.js';
import { startApi, type Api } from '../api/start-api.js';
import { built } from './built.js';
import { closePages, hasBrowser, openBrowser, openPage } from './open-browser.js';
import { runAxe } from './run-axe.js';

/** 40 voltages around 31 V, invented; the 20th is far out, and from the 28th on all are high. */
const voltages = Array.from({ length: 40 }, (_, at) => (at === 19 ? 33.6 : (at >= 27 ? 31.5 : 30.7) + ((at * 7) % 5) / 10));

describe.skipIf(!hasBrowser)('the page of capability', () => {
  let api: Api;
  let browser: Browser;

  beforeAll(async () => {
    api = await startApi({ pagesDir: join(built, 'dashboards') });
    browser = await openBrowser();
    const arcs = [{ arc: 1, voltage: { min: 29, max: 33 } }];
    await fetch(`${api.url}/api/procedures`, { method: 'POST', ...json({ id: 'SA-12', runGroups: [{ name: 'root', runs: [1, 1], arcs }, { name: 'fill', runs: [2, 9], arcs }] }) });
    for (const [at, voltage] of voltages.entries()) add(`f${at}`, at, 'fill', voltage, at < 38);
    add('r0', 1, 'root', 30, false);
  });
  afterEach(async () => { await closePages(browser); });
  afterAll(async () => {
    await browser.close();
    await api.stop();
  });

  function add(id: string, at: number, runGroup: string, voltage: number, isReal: boolean): void {
    const zone = { ...madeRun({ id }).weldZone, heatInput: 1.8 + at / 1000, arcs: [{ arc: 1, current: 600, voltage, wireFeedSpeed: null, absent: {} }] };
    api.addRun({ id, started: firstStart + at * 900e6, runGroup, procedure: { id: 'SA-12', revision: 1 }, assignment: { seam: 'S', run: 2, procedure: 'SA-12' }, weldZone: zone, simulated: !isReal && runGroup === 'fill' });
  }

  const address = (more: string): string => `${api.url}/#/capability?procedure=SA-12&quantity=voltage${more}`;

  it('shows chart, signals and figures, in which axe-core finds nothing', async () => {
    const { page } = await openPage(browser);
    await page.goto(address('&runGroup=fill'));
    await page.locator('.capability-chart canvas').waitFor();
    expect(await runAxe(page)).toEqual([]);
    if (process.env['CAPABILITY_PICTURES'] !== undefined) await page.screenshot({ path: join(process.env['CAPABILITY_PICTURES'], 'capability.png'), fullPage: true });
    const text = await page.locator('main').innerText();
    expect(text).toContain('No. 20: beyond a control limit');
    expect(text).toContain('No. 28–38: eight or more in a row on one side of the mean');
    expect(text).not.toContain('Only');
    expect(await page.locator('.capability-table tbody').last().locator('tr').count()).toBe(38);
  });

  it('is reached from the procedure, begins with its first run group, and says that there are few', async () => {
    const { page } = await openPage(browser);
    await page.goto(`${api.url}/#/procedure/SA-12`);
    await page.getByRole('link', { name: 'Capability' }).press('Enter');
    await page.getByLabel('Run group').waitFor();
    expect(await page.getByLabel('Run group').inputValue()).toBe('root');
    await page.getByText('Only 1 run: with fewer than 25').waitFor();
    await page.getByText('fewer than two runs have a value').or(page.getByText('fewer than two values')).first().waitFor();
    await page.getByLabel('Run group').selectOption('fill');
    await page.getByLabel('Quantity').selectOption('voltage');
    await page.getByLabel('Include simulated runs').check();
    await page.getByText('No. 28–40').waitFor();
    expect(page.url()).toContain('simulated=true');
    expect(await page.getByText('simulated', { exact: true }).count()).toBe(1);
  });

  it('leads from each point to its run by keyboard', async () => {
    const { page } = await openPage(browser);
    await page.goto(address('&runGroup=fill'));
    const chart = page.getByRole('group', { name: /^Individuals chart of voltage: 38 runs, 3 signals/ });
    await chart.focus();
    await page.keyboard.press('End');
    await page.getByText(/Run 38 of 38 · .* ·\s+in a stretch of eight or more/).waitFor();
    await page.keyboard.press('Home');
    for (let step = 0; step < 19; step += 1) await page.keyboard.press('ArrowRight');
    await page.getByText(/Run 20 of 38 · 33\.60.V · .* ·\s+beyond a control limit/).waitFor();
    await page.keyboard.press('Enter');
    await page.waitForURL(/#\/run\/f19$/);
  });

  it('speaks Chinese', async () => {
    const { page, complaints } = await openPage(browser, { choices: { language: 'zh', units: 'us' } });
    await page.goto(address('&runGroup=fill'));
    await page.getByRole('heading', { name: '过程能力 · SA-12' }).waitFor();
    await page.getByText('28–38: 连续八个及以上位于均值同一侧').waitFor();
    expect(complaints).toEqual([]);
    if (process.env['CAPABILITY_PICTURES'] !== undefined) await page.screenshot({ path: join(process.env['CAPABILITY_PICTURES'], 'zh.png'), fullPage: true });
  });
});
