import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addProcedure, csvLog, importLog, reviewAssignment, reviewLog, reviewProcedure } from './import-run.js';
import { closePages, hasBrowser, openBrowser, openPage } from './open-browser.js';
import type { WatchedPage } from './open-browser.js';
import { startService } from './start-service.js';
import type { ServiceUnderTest } from './start-service.js';

/** A machine that tests is a busy one. */
const eventually = <T>(look: () => T | Promise<T>) => expect.poll(look, { timeout: 15_000 });

describe.skipIf(!hasBrowser)('what leads on from a run, and what can be taken away from it', () => {
  let service: ServiceUnderTest;
  let browser: Browser;
  let id = '';
  beforeAll(async () => {
    service = await startService({ SEAMWARDEN_TIME_ZONE: 'Europe/Berlin' });
    browser = await openBrowser();
    await addProcedure(service.http, reviewProcedure);
    id = await importLog(service.http, 'c1', '2026-11-25T06:00:00Z', csvLog(60, reviewLog), reviewAssignment);
  });
  afterAll(async () => {
    await browser.close();
    await service.remove();
  });

  const open = async (choice: { readonly units?: string; readonly language?: string; readonly query?: string; readonly colorScheme?: 'light' | 'dark' } = {}): Promise<WatchedPage & { readonly asked: URLSearchParams[] }> => {
    const { units = 'metric', language = 'en', query = '', colorScheme = 'light' } = choice;
    const watched = await openPage(browser, { choices: { units, language }, colorScheme });
    const asked: URLSearchParams[] = [];
    watched.page.on('request', (request) => {
      const url = new URL(request.url());
      if (url.pathname.endsWith('/trace')) asked.push(url.searchParams);
    });
    await watched.page.goto(`${service.http}/#/run/${id}${query}`);
    await eventually(() => watched.page.locator('.panel canvas').count()).toBe(4);
    await watched.page.locator('.mark-zone').first().waitFor();
    return { ...watched, asked };
  };

  it('leads on to procedure, seam and station, and says where the data came from', async () => {
    const { page } = await open();
    expect(await page.getByRole('link', { name: 'SA-12, revision 1' }).getAttribute('href')).toBe('#/procedure/SA-12?revision=1');
    expect(await page.getByRole('link', { name: 'Station c1' }).getAttribute('href')).toBe('#/station/hall-a/c1');
    expect(await page.locator('.origin').innerText()).toMatch(/^Origin: imported from shell 12\.csv by qa-2 on \d{4}-\d\d-\d\d \d\d:\d\d:\d\d$/);
    await page.getByRole('link', { name: 'all runs of the seam' }).click();
    await page.getByRole('heading', { name: 'Seam DK-0417/L2' }).waitFor();
    await page.getByRole('heading', { name: 'Side 1' }).waitFor();
    const row = (await page.locator('.runs tbody tr').innerText()).replace(/\s+/g, ' ');
    expect(row).toContain('1000.0 … 450.0');
    // What was not recorded is said here too.
    expect(row).toContain('incomplete: 1 data gap');
    await closePages(browser);
  });

  it('draws what is judged as the main line, with its name, and reads it first', async () => {
    const watched = await openPage(browser);
    await watched.page.route('**/trace?**', async (route) => {
      const response = await route.fetch();
      const trace = (await response.json()) as { arcs: { at: number[] }[] };
      const at = trace.arcs[0]?.at ?? [];
      // Made up: 1.95 kJ/mm all along, which the rows never show.
      const value = at.map((_, row) => (row < 20 ? null : 1.95));
      await route.fulfill({ response, json: { ...trace, judged: [{ quantity: 'heatInput', arc: null, at, value, min: value, max: value }] } });
    });
    await watched.page.goto(`${service.http}/#/run/${id}`);
    const panel = watched.page.locator('.panel', { has: watched.page.getByRole('heading', { name: 'Heat input' }) });
    await panel.getByText('mean over 50 mm at this place').waitFor();
    expect((await panel.locator('.lines li').nth(1).innerText()).replace(/\s+/g, ' ')).toContain('all arcs min 1.950 · max 1.950');
    expect(watched.complaints).toEqual([]);
    await closePages(browser);
  });

  it('requests the judged values: the worst value of an excursion can be read off the line', async () => {
    const { page, asked } = await open();
    expect(asked.map((query) => query.get('judged'))).not.toContain(null);
    const panel = page.locator('.panel', { has: page.getByRole('heading', { name: 'Voltage' }) });
    await panel.getByText('mean over 1.0 s').waitFor();
    expect((await panel.locator('.lines').innerText()).replace(/\s+/g, ' ')).toContain('arc 1 min 30.0 · max 36.0');
    expect(await page.getByRole('link', { name: 'CSV of this part' }).getAttribute('href')).toContain('judged=true');
    await closePages(browser);
  });

  it('compares it with another run of the seam', async () => {
    const other = await importLog(service.http, 'c1', '2026-11-25T09:00:00Z', csvLog(50, () => ({ current: 640, voltage: 31, travelSpeed: 600 })), { ...reviewAssignment, run: 2 });
    const { page, complaints } = await open();
    await page.getByLabel('Compare with').selectOption(other);
    // Its name is whole: as wide as the text is by itself, and what a list has at its end.
    const [room, text] = await page.getByLabel('Compare with').evaluate((own) => {
      const alone = document.createElement('span');
      alone.textContent = own instanceof HTMLSelectElement ? (own.selectedOptions[0]?.text ?? '') : '';
      alone.style.cssText = `position: absolute; white-space: nowrap; font: ${getComputedStyle(own).font}`;
      document.body.append(alone);
      const { width } = alone.getBoundingClientRect();
      alone.remove();
      return [own.clientWidth, width];
    });
    expect(text).toBeGreaterThan(100);
    expect(room).toBeGreaterThanOrEqual(text + 16);
    await eventually(() => page.url()).toContain(`with=${other}`);
    expect(page.url()).toContain('axis=seamPosition');
    await eventually(() => page.locator('.panel').first().locator('.lines').innerText()).toContain('compared: arc 1 min 640 · max 640');
    await page.getByText('Compared run: DK-0417/L2, run 2').waitFor();
    expect(complaints).toEqual([]);
    await closePages(browser);
  });

  it('says that the other run loads, and never shows an empty choice', async () => {
    const other = await importLog(service.http, 'c1', '2026-11-25T13:00:00Z', csvLog(50, () => ({ current: 630, voltage: 31, travelSpeed: 600 })), { ...reviewAssignment, seam: 'DK-0417/L9', procedure: 'NOPE' });
    const watched = await openPage(browser);
    let release = (): void => undefined;
    const held = new Promise<void>((resolve) => { release = resolve; });
    await watched.page.route(`**/api/runs/${other}`, async (route) => {
      await held;
      await route.continue();
    });
    await watched.page.goto(`${service.http}/#/run/${id}?axis=seamPosition&with=${other}`);
    const chosen = (): Promise<string> => watched.page.getByLabel('Compare with').evaluate((own) => (own instanceof HTMLSelectElement ? (own.selectedOptions[0]?.text ?? '') : ''));
    await eventually(chosen).toBe('Loading …');
    release();
    await eventually(chosen).toMatch(/^DK-0417\/L9, run /);
    expect(watched.complaints).toEqual([]);
    await closePages(browser);
  });

  it('gives its data as CSV: each time with the offset of the plant, and no cell that a sheet would compute', async () => {
    const seam = '=1+1';
    const evil = await importLog(service.http, 'c4', '2026-11-25T11:00:00Z', csvLog(60, reviewLog), { ...reviewAssignment, seam });
    const trace = await fetch(`${service.http}/api/runs/${evil}/trace?format=csv&points=20000`);
    expect(trace.headers.get('content-type')).toContain('text/csv');
    const lines = (await trace.text()).split('\r\n');
    expect(lines[0]).toBe('line,arc,time,at [s],current [A],currentMin [A],currentMax [A],voltage [V],voltageMin [V],voltageMax [V],travelSpeed [mm/min],wireFeedSpeed [m/min],heatInput [kJ/mm],plateTemperature [°C],currentVariation,voltageVariation,t85 [s],min,max');
    // 12:00 in Berlin; 600 A, 30 V at 10 mm/s are 1.8 kJ/mm.
    expect(lines[1]).toBe('rows,1,2026-11-25T12:00:00.000+01:00,0,600,600,600,30,30,30,600,,1.8,,,,,,');
    expect(lines.at(-1)).toBe('');
    expect(lines.some((line) => line.startsWith('judged'))).toBe(false);
    // 36 V from 20 to 30 s, 33 V at most: the mean over 1 s is 36 V in the midst of it, and nowhere more.
    const judged = (await (await fetch(`${service.http}/api/runs/${evil}/trace?format=csv&judged=true&points=20000`)).text()).split('\r\n').filter((line) => line.startsWith('judged,1,')).map((line) => line.split(','));
    const volts = judged.filter((cells) => cells[7] !== '').map((cells) => ({ time: cells[2], at: Number(cells[3]), voltage: Number(cells[7]) }));
    expect(volts.find(({ at }) => at === 25)).toEqual({ time: '2026-11-25T12:00:25.000+01:00', at: 25, voltage: 36 });
    expect(volts.filter(({ at, voltage }) => voltage > 33 && (at < 19.8 || at > 30.2))).toEqual([]);
    const [, excursion = ''] = (await (await fetch(`${service.http}/api/runs/${evil}/excursions?format=csv`)).text()).split('\r\n');
    expect(excursion).toMatch(/^'=1\+1,1,voltage,1,33,36,2026-11-25T12:00:\d\d\.\d{3}\+01:00,/);
    const profile = (await (await fetch(`${service.http}/api/runs/${evil}/profile?format=csv`)).text()).split('\r\n');
    expect(profile[0]).toBe('travelled [mm],seamPosition [mm],heatInput [kJ/mm],current [A],voltage [V],travelSpeed [mm/min],t85 [s],covered,zone');
    expect(profile.length).toBeGreaterThan(55);
  });

  it('prints on A4 with nothing cut and nothing to press, and with the caution', async () => {
    const { page } = await open({ colorScheme: 'dark' });
    await page.setViewportSize({ width: 703, height: 1000 });
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    await page.evaluate(() => { window.dispatchEvent(new Event('beforeprint')); });
    const paper = await page.evaluate(() => ({
      wide: document.documentElement.scrollWidth,
      drawings: Array.from(document.querySelectorAll('.panel canvas')).map((own) => Math.round(own.getBoundingClientRect().right)),
      shown: Array.from(document.querySelectorAll('button, select, input, nav, .top')).filter((own) => !own.classList.contains('figure-name') && own.checkVisibility()).map((own) => own.outerHTML.slice(0, 80)),
      ground: getComputedStyle(document.body).backgroundColor,
    }));
    expect(paper.wide).toBeLessThanOrEqual(703);
    expect(Math.max(...paper.drawings)).toBeLessThanOrEqual(703);
    expect(paper.shown).toEqual([]);
    expect(paper.ground).toBe('rgb(255, 255, 255)');
    expect(await page.locator('.caution').isVisible()).toBe(true);
    await page.evaluate(() => { window.dispatchEvent(new Event('afterprint')); });
    expect((await page.pdf({ preferCSSPageSize: true })).subarray(0, 5).toString()).toBe('%PDF-');
    await closePages(browser);
  });

  it('says of a run whose procedure does not exist that it was not judged, never that it has no excursions', async () => {
    const run = await importLog(service.http, 'c6', '2026-11-25T12:00:00Z', csvLog(60, reviewLog), { ...reviewAssignment, seam: 'SHELL-12/L1', procedure: 'NOPE' });
    expect(await (await fetch(`${service.http}/api/runs/${run}`)).json()).toMatchObject({ judged: false, notJudged: 'procedureUnknown', excursions: 0, origin: { kind: 'log', file: 'shell 12.csv', by: 'qa-2' } });
    const { page } = await openPage(browser);
    await page.goto(`${service.http}/#/run/${run}`);
    await eventually(async () => (await page.locator('.findings').innerText()).replace(/\s+/g, ' ')).toContain('Not judged: procedure NOPE not found');
    await page.locator('.missing').getByText('Not judged, so there are no excursions: procedure NOPE not found.').waitFor();
    expect(await page.locator('main').innerText()).not.toContain('0 excursions,');
    await page.goto(`${service.http}/#/runs?seam=SHELL-12/L1`);
    await page.getByText('not judged: procedure NOPE not found').waitFor();
    await closePages(browser);
  });

  it('gives a job to a run without one, and says so from then on', async () => {
    const answer = await fetch(`${service.http}/api/imports?carriage=hall-a/c7&start=2026-11-25T13:00:00Z`, { method: 'POST', headers: { 'content-type': 'text/csv' }, body: csvLog(60, reviewLog) });
    const [run = ''] = ((await answer.json()) as { readonly runs: readonly string[] }).runs;
    const { page, complaints } = await openPage(browser);
    await page.goto(`${service.http}/#/run/${run}`);
    await page.getByRole('heading', { name: 'No job assigned', level: 1 }).waitFor();
    await page.getByText('No job was assigned when the arc was struck. The run can still be assigned.').waitFor();
    // A key finds its button also where traces that are drawn meanwhile move it.
    await page.getByRole('button', { name: 'Assign job' }).press('Enter');
    const form = page.locator('#job form');
    await form.getByLabel(/^Seam\b/).first().fill('SHELL-7/L3');
    await form.getByLabel(/^Run\b/).first().fill('4');
    await form.getByLabel(/name/i).last().fill('qa-2');
    await form.locator('button[type=submit]').click();
    await page.getByRole('heading', { name: 'SHELL-7/L3, run 4' }).waitFor();
    expect(await (await fetch(`${service.http}/api/runs/${run}`)).json()).toMatchObject({ seam: 'SHELL-7/L3', run: 4, assigned: true, version: 2 });
    expect(complaints).toEqual([]);
    await closePages(browser);
  });
});
