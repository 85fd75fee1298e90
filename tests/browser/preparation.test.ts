import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { AssignmentAnswer } from '../../shared/api-types/assignment.js';
import { closePages, hasBrowser, openBrowser, openPage } from './open-browser.js';
import { runAxe } from './run-axe.js';
import { publish, sendSteadyRun } from './send-readings.js';
import { startService } from './start-service.js';
import type { ServiceUnderTest } from './start-service.js';

const procedure = {
  id: 'PREP-1',
  runGroups: [{ runs: [1, 9], preheat: { min: 80 }, arcs: [{ arc: 1, currentType: 'DC', polarity: 'EP', wireDiameter: 4, electrodeExtension: { min: 28, max: 36 } }] }],
};
const done = { surfaceCleaned: true, polarityChecked: true, trackParallel: true };
const lastTime = {
  procedure: 'PREP-1', fluxLot: 'F-3306', arcs: [{ arc: 1, wireDiameter: 4, electrodeExtension: 30, wireLot: 'W-88120' }],
  preparation: { ...done, flux: { dried: true, temperature: 320, hours: 2 }, preheatMeasured: 95 },
};

/** A value and its unit are held together by a space that breaks no line. */
const plain = (text: string): string => text.replaceAll('\u00a0', ' ').trim();

describe.skipIf(!hasBrowser)('the preparation at the station', () => {
  let service: ServiceUnderTest;
  let browser: Browser;
  beforeAll(async () => {
    service = await startService();
    browser = await openBrowser();
    await fetch(`${service.http}/api/procedures`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(procedure) });
  });
  afterAll(async () => {
    await browser.close();
    await service.remove();
  });

  /** The checks for a run to come, on a tablet of 10.1 inches; the carriage has welded one before. */
  async function openList(carriage: string): Promise<{ page: Page; complaints: string[]; list: Locator; inForce: () => Promise<AssignmentAnswer | null> }> {
    await sendSteadyRun(service, carriage, `${carriage}/L1`, lastTime);
    await publish(service.mqtt, [{ topic: `weld/hall-a/${carriage}/assignment`, payload: { seam: `${carriage}/L2`, run: 1, procedure: 'PREP-1', operator: 'op-07', arcs: [{ arc: 1, wireLot: 'W-1' }] } }]);
    const { page, complaints } = await openPage(browser, { viewport: { width: 1280, height: 800 }, locale: 'en' });
    await page.goto(`${service.http}/#/station/hall-a/${carriage}`);
    await page.getByRole('button', { name: '10 checks open' }).click();
    const list = page.locator('.sheet');
    await list.getByText('10 of 11 checks open. This does not stop the carriage; open checks are recorded with the run.').waitFor();
    const inForce = async (): Promise<AssignmentAnswer | null> => {
      const { items } = (await (await fetch(`${service.http}/api/carriages`)).json()) as { items: { carriage: string; assignment: AssignmentAnswer | null }[] };
      return items.find((own) => own.carriage === carriage)?.assignment ?? null;
    };
    return { page, complaints, list, inForce };
  }

  it('is entered card by card, with presses of 25 mm, told apart by declared, confirmed and open, and kept with the job', async () => {
    const { page, complaints, list, inForce } = await openList('c1');
    // 25 mm are 147 px on a 10.1-inch screen of 1280 × 800: its diagonal is √(1280² + 800²) = 1509 px, 149 px an inch.
    const large = async (): Promise<void> => {
      const sizes = await page.locator('button, .sheet input').evaluateAll((all) => all.flatMap((own) => [own.getBoundingClientRect().width, own.getBoundingClientRect().height]));
      expect(Math.min(...sizes)).toBeGreaterThanOrEqual(146);
    };
    await large();
    expect(await runAxe(page)).toEqual([]);
    const press = async (name: string | RegExp): Promise<void> => { await list.getByRole('button', { name, exact: typeof name === 'string' }).click(); };
    expect(plain(await list.getByRole('button', { name: /^Wire lot/ }).innerText())).toMatch(/W-1\s+from the job, not confirmed/);
    await press(/^Surface cleaned/);
    await large();
    expect(await runAxe(page)).toEqual([]);
    await press('Done');
    await list.getByText('confirmed by station c1').waitFor();
    await press('Next');
    await press('Not done');
    await list.getByText(/not done · confirmed by station c1/).waitFor();
    await press('Clear');
    await list.getByText('Cleared.').waitFor();
    await press('Undo');
    await list.getByText(/not done · confirmed by station c1/).waitFor();
    await press('All checks');
    // A scanner types and ends with Enter.
    await press(/^Flux lot/);
    await page.keyboard.type('F-9001');
    await page.keyboard.press('Enter');
    await list.getByText(/confirmed by station c1/).waitFor();
    await large();
    await press('All checks');
    // What came with the job is confirmed by a press on it.
    await press(/^Wire lot/);
    await press(/^W-1/);
    await list.getByText(/confirmed by station c1/).waitFor();
    await expect.poll(inForce, { timeout: 10_000 }).toMatchObject({ seam: 'c1/L2', fluxLot: 'F-9001', arcs: [{ arc: 1, wireLot: 'W-1' }], preparation: { surfaceCleaned: true, flux: { dried: false }, by: 'station c1' } });
    expect(complaints).toEqual([]);
    await closePages(browser);
  });

  it('stores a number once, when the hand rests, and says what lies outside', async () => {
    const { page, list, inForce } = await openList('c5');
    let puts = 0;
    page.on('request', (request) => { if (request.method() === 'PUT') puts += 1; });
    await list.getByRole('button', { name: /^Preheat measured/ }).click();
    // 80, the least that the procedure allows, is what it begins with.
    for (const name of ['−25', '−5', '−5', '+5']) await list.getByRole('button', { name: `Preheat measured: ${name}` }).click();
    expect(puts).toBe(0);
    await list.getByText('not saved yet').waitFor();
    await expect.poll(async () => (await inForce())?.preparation?.preheatMeasured, { timeout: 10_000 }).toBe(70);
    // The browser tells of a request apart from the service, and maybe later.
    await expect.poll(() => puts).toBe(1);
    expect(plain(await list.innerText())).toMatch(/out of limits · confirmed by station c5[^]*Procedure: at least 80 °C/);
    expect(puts).toBe(1);
    await closePages(browser);
  });

  it('takes over materials and settings of the run before, and no check', async () => {
    const { list, inForce } = await openList('c2');
    await list.getByRole('button', { name: /^Same materials as last run/ }).click();
    await expect.poll(inForce, { timeout: 10_000 }).toMatchObject({ fluxLot: 'F-3306', arcs: [{ arc: 1, wireDiameter: 4, electrodeExtension: 30, wireLot: 'W-1' }] });
    await list.getByText('7 of 11 checks open.').waitFor();
    const { preparation } = (await inForce()) ?? {};
    expect([preparation?.surfaceCleaned, preparation?.polarityChecked, preparation?.trackParallel, preparation?.flux, preparation?.confirmed]).toEqual([undefined, undefined, undefined, undefined, undefined]);
    expect(plain(await list.getByRole('button', { name: /^Electrode extension/ }).innerText())).toContain('from the job, not confirmed');
    await closePages(browser);
  });

  it('says what was not stored, and why', async () => {
    const { page, list, inForce } = await openList('c3');
    // A full disk cannot be had here without harm to others: the answer is put in the service's place, as RFC 9457 has it.
    const problem = { type: 'about:blank', title: 'Service Unavailable', status: 503, detail: 'Data cannot be stored: the disk is full.', instance: '/' };
    await page.route('**/preparation', (route) => route.fulfill({ status: 503, contentType: 'application/problem+json', body: JSON.stringify(problem) }));
    await list.getByRole('button', { name: /^Surface cleaned/ }).click();
    await list.getByRole('button', { name: 'Done', exact: true }).click();
    await list.getByRole('alert').getByText('Not saved: Data cannot be stored: the disk is full. Try again.').waitFor();
    expect(await list.getByRole('button', { name: 'Done', exact: true }).getAttribute('aria-pressed')).toBe('false');
    await page.unroute('**/preparation');
    await page.waitForTimeout(600);
    await list.getByRole('button', { name: 'Done', exact: true }).click();
    await expect.poll(async () => (await inForce())?.preparation?.surfaceCleaned, { timeout: 10_000 }).toBe(true);
    await closePages(browser);
  });

  it('is shown with the run: what was entered, and what was missing', async () => {
    const id = await sendSteadyRun(service, 'c4', 'c4/L1', { ...lastTime, preparation: { ...done, surfaceCleaned: false, flux: { dried: true, temperature: 320, hours: 2 } }, arcs: [{ arc: 1, wireDiameter: 4, electrodeExtension: 41 }] });
    const { page, complaints } = await openPage(browser, { locale: 'en' });
    await page.goto(`${service.http}/#/run/${id}`);
    const section = page.locator('section', { has: page.getByRole('heading', { name: 'Preparation', exact: true }) }).last();
    await section.waitFor();
    expect((await section.getByRole('listitem').allInnerTexts()).map(plain)).toEqual([
      'Surface cleaned: marked “not done”', 'Wire lot: not entered', 'Electrode extension: 41 mm is outside 28 to 36 mm (procedure)',
      'Electrode extension: 41 mm is outside 24 to 40 mm (rule of thumb)', 'Preheat measured: not entered',
    ]);
    expect(plain(await section.innerText())).toMatch(/5 checks open \(welding was not blocked\)[^]*Flux baking temperature\s+320 °C[^]*Track parallel to the seam\s+yes/);
    expect(complaints).toEqual([]);
    await closePages(browser);
  });
});
