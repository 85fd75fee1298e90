import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addProcedure, csvLog, importLog, reviewAssignment, reviewLog, reviewProcedure } from './import-run.js';
import { closePages, hasBrowser, openBrowser, openPage } from './open-browser.js';
import type { WatchedPage } from './open-browser.js';
import { runAxe } from './run-axe.js';
import { publish } from './send-readings.js';
import { startService } from './start-service.js';
import type { ServiceUnderTest } from './start-service.js';

/** A machine that tests is a busy one. */
const eventually = <T>(look: () => T | Promise<T>) => expect.poll(look, { timeout: 15_000 });

describe.skipIf(!hasBrowser)('the review of a run', () => {
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

  const open = async (choice: { readonly units?: string; readonly language?: string; readonly query?: string } = {}): Promise<WatchedPage & { readonly asked: URLSearchParams[] }> => {
    const { units = 'metric', language = 'en', query = '' } = choice;
    const watched = await openPage(browser, { choices: { units, language } });
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
  const rowOf = async (page: Page, code: string): Promise<string> => (await page.locator('.mark-table tr', { has: page.getByText(code, { exact: true }) }).innerText()).replace(/\s+/g, ' ');

  it('says first what is wrong and where, and that data is missing', async () => {
    const { page, complaints } = await open();
    const findings = (await page.locator('.findings').innerText()).replace(/\s+/g, ' ');
    expect(findings).toContain('Out of limits: over 100.');
    expect(findings).toContain('1 excursion');
    expect(findings).toContain('First: X1 Voltage of arc 1 above 33.0 V, max 36.0 V');
    // The gap's 21 mm, and 25 mm on either side, whose heat input over 50 mm it hides.
    expect(findings).toContain('Data incomplete: 1 data gap, 71.0 mm without data');
    const keys = (await page.locator('.key-figures').innerText()).replace(/\s+/g, ' ');
    expect(keys).toContain('Heat input, whole run 1.868 kJ/mm with tabs and crater Length 550.0 mm Arc time 52.9 s');
    expect(complaints).toEqual([]);
    await closePages(browser);
  });

  it('lists zones, restart, gap and excursion at the places where they are', async () => {
    const { page } = await open();
    // Ignition lasts 2.0 s, the crater 2.0 s, after a restart both; the gap parts the last weld zone.
    const zones = await page.locator('.mark-zone').evaluateAll((rows) => rows.map((row) => `${row.children[1]?.textContent ?? ''} ${row.children[2]?.textContent ?? ''} ${row.children[3]?.textContent ?? ''}`));
    expect(zones.map((text) => text.replace(/ –.* (\d:\S+ \d:\S+)$/, ' $1'))).toEqual(['Arc start 0:00.0 0:02.0', 'Weld 0:02.0 0:38.0', 'Crater 0:38.0 0:40.0', 'After restart 0:45.0 0:47.0', 'Weld 0:47.0 0:50.9', 'Weld 0:53.0 0:58.0', 'Crater 0:58.0 1:00.0']);
    expect(await rowOf(page, 'Z3')).toContain('Crater – not assessed, the last 2.0 s before arc end');
    expect(await rowOf(page, 'G1')).toContain('No data for 2.1 s, counts as no evidence 0:50.9 0:53.0 459.0 … 480.0 541.0 … 520.0');
    expect(await rowOf(page, 'R1')).toContain('Arc 1 lost and re-struck, 0.0 mm overlap, position computed from speed, not measured 0:40.0 0:45.0 400.0 600.0');
    const [, from, to] = /X1 excursion .* (\d+\.\d) … (\d+\.\d) \d/.exec(await rowOf(page, 'X1')) ?? [];
    expect(Math.abs(Number(from) - 200)).toBeLessThanOrEqual(1);
    // It ends inside the deadband, 0.05 of the window's 5 V: a step is that far inside half a row later.
    expect(Math.abs(Number(to) - 301)).toBeLessThanOrEqual(2);
    await page.getByLabel('Show only').selectOption('excursion');
    expect(await page.locator('.mark-table tbody tr').count()).toBe(1);
    await closePages(browser);
  });

  it('steps from mark to mark by keyboard: the traces go there, the cursor stands there, a live region tells it', async () => {
    const { page, complaints, asked } = await open();
    await page.locator('#traces').focus();
    for (let step = 0; step < 3; step += 1) await page.keyboard.press('n');
    const status = page.locator('#traces .step-said');
    await eventually(() => status.innerText()).toMatch(/^Event 3 of 10: X1 excursion, voltage of arc 1 above 33\.0.V, max 36\.0.V, judged: mean over 1\.0.s, from 0:20\.\d to 0:30\.\d$/);
    await eventually(() => Number(asked.at(-1)?.get('from'))).toBeGreaterThan(14);
    expect(Number(asked.at(-1)?.get('from'))).toBeLessThan(19);
    expect(Number(asked.at(-1)?.get('to'))).toBeGreaterThan(31);
    await eventually(() => page.locator('.cursor output').innerText()).toMatch(/^0:(19\.9|20\.[01]) min:s$/);
    expect(await page.locator('.mark-table tr[aria-current=true] .code').innerText()).toBe('X1');
    const lines = await page.locator('.u-cursor-x').evaluateAll((all) => all.map((line) => Math.round(line.getBoundingClientRect().left)));
    expect(new Set(lines).size).toBe(1);

    await page.keyboard.press('p');
    await eventually(() => status.innerText()).toContain('Event 2 of 10: Z2 zone, weld');
    await page.keyboard.press('0');
    await eventually(() => asked.at(-1)?.has('from')).toBe(false);
    await page.keyboard.press('+');
    await eventually(() => asked.at(-1)?.has('from')).toBe(true);
    const wide = Number(asked.at(-1)?.get('to')) - Number(asked.at(-1)?.get('from'));
    // Half of the 60 s, whose last row begins 0.1 s before their end.
    expect(Math.abs(wide - 30)).toBeLessThan(0.2);
    const before = await page.locator('.cursor output').innerText();
    await page.keyboard.press('ArrowRight');
    await eventually(() => page.locator('.cursor output').innerText()).not.toBe(before);
    // Back goes the way of the steps.
    await page.goBack();
    await eventually(() => page.url()).not.toContain('from=');
    expect(complaints).toEqual([]);
    await closePages(browser);
  });

  it('goes to a mark from the list, by mm on the seam, with the mouse', async () => {
    const { page, asked } = await open({ query: '?axis=seamPosition' });
    await page.getByRole('button', { name: 'Zoom to G1' }).click();
    await eventually(() => asked.at(-1)?.get('axis')).toBe('seamPosition');
    // The gap lies from 459 to 480 mm travelled, 541 to 520 mm from the datum; 40 mm stand beside it.
    await eventually(() => Number(asked.at(-1)?.get('from'))).toBeCloseTo(480, 0);
    expect(Number(asked.at(-1)?.get('to'))).toBeCloseTo(581, 0);
    await page.locator('.strip .block-gap').click();
    await eventually(() => page.locator('#traces .step-said').innerText()).toContain('G1 data gap');
    await closePages(browser);
  });

  it('zooms by dragging, fetches what is seen more finely, and a double click shows the whole run', async () => {
    const { page, complaints, asked } = await open({ units: 'us', query: '?axis=travelled' });
    const drawing = await page.locator('.u-over').first().boundingBox();
    if (drawing === null) throw new Error('there is no drawing');
    const middle = drawing.y + drawing.height / 2;
    await page.mouse.move(drawing.x + drawing.width * 0.25, middle);
    await page.mouse.down();
    await page.mouse.move(drawing.x + drawing.width * 0.5, middle, { steps: 5 });
    await page.mouse.up();
    // Drawn in inches, asked for in mm of the 550.
    await eventually(() => Number(asked.at(-1)?.get('from'))).toBeGreaterThan(130);
    expect(Number(asked.at(-1)?.get('from'))).toBeLessThan(145);
    expect(Number(asked.at(-1)?.get('to'))).toBeGreaterThan(265);
    expect(Number(asked.at(-1)?.get('to'))).toBeLessThan(285);
    expect(Number(asked.at(-1)?.get('points'))).toBeGreaterThan(500);
    await page.locator('.u-over').first().dblclick();
    await eventually(() => asked.at(-1)?.has('from')).toBe(false);
    expect(complaints).toEqual([]);
    await closePages(browser);
  });

  it('draws the limits of the run’s procedure, and says so to people who do not see them', async () => {
    const { page } = await open();
    const words = await page.locator('.drawing').evaluateAll((all) => all.map((own) => own.getAttribute('aria-label') ?? ''));
    expect(words.map((text) => /limits (.*)$/.exec(text.replaceAll('\u00a0', ' '))?.[1])).toEqual(['min 580 A max 680 A', 'min 28.0 V max 33.0 V', 'min 500 mm/min max 650 mm/min', 'min 1.500 kJ/mm max 2.500 kJ/mm']);
    expect(await page.locator('.panels').innerText()).toContain('Limits of SA-12, revision 1, first side');
    await closePages(browser);
  });

  it('gives the heat input of the weld zone first, as the one for the certificate, in columns that end at one height', async () => {
    const { page } = await open();
    // Weld zone of the log by hand: 2 to 38, 47 to 50.9 and 53 to 58 s, 44.9 s and 449 mm; 10 s at 6 V · 600 A more: 808.2 + 36 = 844.2 kJ.
    const terms = await page.locator('.key-figures dt').allInnerTexts();
    expect(terms.slice(0, 2)).toEqual(['Heat input, weld zone', 'Heat input, whole run']);
    const keys = (await page.locator('.key-figures').innerText()).replace(/\s+/g, ' ');
    expect(keys).toContain('Heat input, weld zone 1.880 kJ/mm for the certificate');
    const details = (await page.locator('.details').innerText()).replace(/\s+/g, ' ');
    expect(details).toContain('Heat input (for the certificate) 1.880 kJ/mm Length 449.0 mm Arc time 44.9 s Energy 844.2 kJ');
    for (const [width, columns] of [[1280, 3], [900, 2], [390, 1]] as const) {
      await page.setViewportSize({ width, height: 800 });
      const ends = await page.locator('.column').evaluateAll((all) => all.map((own) => {
        const { left, bottom } = own.getBoundingClientRect();
        return { left: Math.round(left), bottom: Math.round(bottom + window.scrollY), last: Math.round((own.lastElementChild?.getBoundingClientRect().bottom ?? 0) + window.scrollY) };
      }));
      const lowest = new Map<number, number>();
      for (const { left, bottom, last } of ends) {
        expect(last).toBe(bottom);
        lowest.set(left, Math.max(bottom, lowest.get(left) ?? 0));
      }
      expect([lowest.size, new Set(lowest.values()).size], `${width} px`).toEqual([columns, 1]);
    }
    await closePages(browser);
  });

  it('leads from a figure to formula, inputs, method and source, and on to its inputs', async () => {
    const { page } = await open();
    await page.locator('.key-figures').getByRole('button', { name: 'Heat input, whole run' }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByRole('heading', { name: 'Heat input: where it comes from' }).waitFor();
    await dialog.getByText('arcEnergy · thermalEfficiency', { exact: true }).waitFor();
    const text = (await dialog.innerText()).replace(/\s+/g, ' ');
    expect(text).toMatch(/arcEnergy = 1\.868\d+ kJ\/mm · Arc energy \(computed\)/);
    expect(text).toContain('thermalEfficiency = 1 · Thermal efficiency (from the procedure)');
    expect(text).toContain('EN 1011-1');
    expect(text).toContain('average values');
    expect(text).toContain('P: published, source seen');
    await dialog.getByRole('button', { name: 'Arc energy' }).click();
    await dialog.getByRole('heading', { name: 'Arc energy: where it comes from' }).waitFor();
    expect((await dialog.innerText()).replace(/\s+/g, ' ')).toMatch(/energy1 ⁄ length1 Inputs energy1 = 988\.2 kJ · Energy, Arc 1 \(computed\) length1 = 529 mm · Length, Arc 1 \(computed\)/);
    await dialog.getByRole('button', { name: 'Energy, Arc 1' }).click();
    await dialog.getByText('none: a sum over samples, a count or a place').waitFor();
    expect(await dialog.innerText()).toContain('Σ U · I · Δt over the samples');
    await page.keyboard.press('Escape');
    await eventually(() => dialog.count()).toBe(0);
    const details = (await page.locator('.details').innerText()).replace(/\s+/g, ' ');
    expect(details).toMatch(/Arc losses not detectable from \S+ ms readings/);
    await closePages(browser);
  });

  it('speaks in US units of a pass, and in Chinese', async () => {
    const us = await open({ units: 'us' });
    expect(await us.page.locator('h1').innerText()).toBe('DK-0417/L2, pass 1');
    const keys = (await us.page.locator('.key-figures').innerText()).replace(/\s+/g, ' ');
    // 1.868053 · 25.4 = 47.449 kJ/in; 550 / 25.4 = 21.654 in; 600 / 25.4 = 23.622 in/min.
    expect(keys).toContain('Heat input, whole pass 47.4 kJ/in with tabs and crater Length 21.65 in');
    expect(keys).toContain('Travel speed, mean 23.6 in/min');
    // A run-on tab keeps its name, and so does a path of the API.
    expect((await us.page.locator('main').innerText()).replaceAll('/api/runs/', '')).not.toMatch(/\bruns?\b(?!-)/i);
    await closePages(browser);
    const zh = await open({ language: 'zh' });
    expect(await zh.page.locator('h1').innerText()).toBe('DK-0417/L2，焊道 1');
    expect((await zh.page.locator('.key-figures').innerText()).replace(/\s+/g, ' ')).toContain('热输入（整条焊道） 1.868 kJ/mm');
    // What is left in Latin letters are names, units, codes and keys, never a sentence.
    expect(await zh.page.locator('main').innerText()).not.toMatch(/[a-z]{3,} [a-z]{3,} [a-z]{3,} [a-z]{3,}/i);
    await closePages(browser);
  });

  for (const [width, height] of [[1280, 800], [1366, 768]] as const) {
    it(`shows all four traces at once on ${width} × ${height}`, async () => {
      const { page } = await open();
      await page.setViewportSize({ width, height });
      const lowest = async (): Promise<number> => await page.locator('.panel .drawing').evaluateAll((all) => Math.max(...all.map((own) => own.getBoundingClientRect().bottom)));
      await eventually(lowest).toBeLessThanOrEqual(height);
      expect(await page.locator('.panel .drawing').evaluateAll((all) => Math.min(...all.map((own) => own.getBoundingClientRect().height)))).toBeGreaterThanOrEqual(60);
      await closePages(browser);
    });
  }

  it('pans and zooms within the run, never beside it', async () => {
    const { page, asked } = await open({ query: '?from=-5&to=25' });
    await page.getByRole('button', { name: 'Pan left' }).click();
    await eventually(() => Number(asked.at(-1)?.get('from') ?? 99)).toBe(0);
    expect(Number(asked.at(-1)?.get('to'))).toBeCloseTo(30, 0);
    await page.getByRole('button', { name: 'Pan right' }).click();
    await eventually(() => Number(asked.at(-1)?.get('from'))).toBeCloseTo(15, 0);
    await closePages(browser);
  });

  it('axe-core finds nothing, in the dialog neither', async () => {
    const { page } = await open();
    await page.locator('#traces').focus();
    await page.keyboard.press('n');
    expect(await runAxe(page)).toEqual([]);
    await page.locator('.key-figures .figure-name').first().click();
    await page.getByRole('dialog').waitFor();
    expect(await runAxe(page)).toEqual([]);
    await closePages(browser);
  });

  it('shows the alarms of a run that is welded, and leads to their place', async () => {
    const begin = Date.now() - 40_000;
    const readings = Array.from({ length: 350 }, (_, seq) => ({ boot: 'b1', seq, time: begin + seq * 100, current: 600, voltage: seq < 300 ? 30 : 36, travelSpeed: 600 }));
    await publish(service.mqtt, [
      { topic: 'weld/hall-a/c9/assignment', payload: { ...reviewAssignment, seam: 'DK-0418/L1' } },
      { topic: 'weld/hall-a/c9/readings', payload: readings },
    ]);
    const { page, complaints } = await openPage(browser);
    await page.goto(`${service.http}/#/runs?carriage=c9`);
    await page.locator('.runs tbody a').click();
    await page.locator('.run-alarms summary').click();
    const row = page.locator('.run-alarms tr', { hasText: 'Voltage of arc 1' });
    await row.waitFor();
    expect((await row.innerText()).replace(/\s+/g, ' ')).toMatch(/Voltage of arc 1 .*33\.0 V.*36\.0 V.*(69\d|70\d)\.\d mm.*not acknowledged/);
    await page.locator('.panel canvas').first().waitFor();
    expect(await page.locator('.strip .alarm-tick.stands').count()).toBe(1);
    await row.getByRole('button').click();
    await eventually(() => page.url()).toMatch(/from=2[45]/);
    expect(complaints).toEqual([]);
    await closePages(browser);
  });
});
