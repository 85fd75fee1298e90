import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Alarm } from '../../shared/api-types/alarm.js';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { closePages, hasBrowser, openBrowser, openPage } from './open-browser.js';
import { sendSteadyRun } from './send-readings.js';
import { startService } from './start-service.js';
import type { ServiceUnderTest } from './start-service.js';

/** Invented. The steady run of 30 V lies below its voltage limits. */
const first = {
  id: 'W-1', title: 'Shell longitudinal', process: '121', parentMaterial: 'S355J2+N', thickness: { min: 10, max: 25 }, by: 'J. Weber',
  runGroups: [
    {
      name: 'first side', side: 1, runs: [1, 2], travelSpeed: { min: 500, max: 650 }, interpassTemperature: { max: 250 }, t85: { min: 8 }, preheat: { min: 15 },
      arcs: [{ arc: 1, currentType: 'DC', polarity: 'EP', wireDiameter: 4, wireClassification: 'ISO 14171-A - S2Mo', current: { min: 550.5, max: 670 }, voltage: { min: 31, max: 34 } }],
    },
  ],
  alarm: { windows: { voltage: { priority: 'high', response: 'Check the contact tip.', responses: { zh: '检查导电嘴。' } } } },
};

describe.skipIf(!hasBrowser)('reading and revising a procedure', () => {
  let service: ServiceUnderTest;
  let browser: Browser;
  beforeAll(async () => {
    service = await startService();
    browser = await openBrowser();
    const { id, ...content } = first;
    await post('/api/procedures', first);
    await post(`/api/procedures/${id}/revisions`, { ...content, alarm: { ...first.alarm, onDelay: 2 }, by: 'B. Other', reason: 'fewer short alarms' });
    await post(`/api/procedures/${id}/revisions`, { ...content, title: 'Shell, both sides', alarm: { ...first.alarm, onDelay: 2 }, by: 'B. Other' });
  });
  afterAll(async () => {
    await browser.close();
    await service.remove();
  });

  const post = async (path: string, body: object): Promise<void> => {
    const answer = await fetch(service.http + path, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) });
    expect(answer.status).toBe(201);
  };
  const stored = async (id: string): Promise<Procedure> => (await (await fetch(`${service.http}/api/procedures/${id}`)).json()) as Procedure;
  const open = async (address: string, { choices = {}, width = 1280 }: { readonly choices?: Readonly<Record<string, string>>; readonly width?: number } = {}): Promise<Page> => {
    const { page } = await openPage(browser, { choices, viewport: { width, height: 800 } });
    await page.goto(`${service.http}/#/${address}`);
    return page;
  };

  it.each(['en', 'zh'])('shows all of an action that is typed, at 1280 px too, and keeps it one line (%s)', async (language) => {
    const page = await open('procedure/W-1?edit=1', { choices: { language } });
    await page.locator('a.action[href*="edit"], .windows').first().waitFor();
    if ((await page.locator('.windows').count()) === 0) await page.locator('a.action').first().click();
    const field = page.locator('[id="field-alarm-windows-voltage-response"]');
    const text = 'Reset the voltage at the power source, then check the contact tip and the flux depth.';
    await field.fill(`${text}\n`);
    await expect.poll(() => field.evaluate((own) => own.scrollWidth <= own.clientWidth && own.scrollHeight <= own.clientHeight + 1)).toBe(true);
    await field.press('Enter');
    expect((await field.inputValue()).trim()).toBe(text);
    const widths = await page.locator('.responses tbody tr').first().locator('textarea').evaluateAll((all) => all.map((own) => own.getBoundingClientRect().width));
    expect(Math.min(...widths)).toBeGreaterThan(150);
    await closePages(browser);
  });

  it('opens to be read, is edited on demand, and tells that it was saved on the saved revision alone', async () => {
    const page = await open('procedure/W-1');
    await page.getByRole('heading', { name: 'Run group 1: first side' }).waitFor();
    expect(await page.locator('main input').count()).toBe(0);
    // The station's sheets have a frame of their own, which is not for a page that is read.
    expect(await page.locator('.procedure').evaluate((own) => getComputedStyle(own).borderTopWidth)).toBe('0px');
    await page.getByRole('link', { name: 'Edit' }).click();
    await page.getByRole('heading', { name: 'Edit W-1' }).waitFor();
    await page.getByLabel('Title').fill('Shell, all sides');
    const save = page.getByRole('button', { name: 'Save as revision 4' });
    await save.click();
    await page.getByText('Not saved: please correct 1 field.').waitFor();
    expect(await page.getByLabel('Your name').getAttribute('aria-invalid')).toBe('true');
    await page.getByLabel('Your name').fill('C. Third');
    await page.getByLabel('Reason for change').fill('all sides');
    await save.click();
    await page.getByText('Saved as revision 4.').waitFor();
    expect(await page.locator('main input').count()).toBe(0);
    expect(await stored('W-1')).toMatchObject({ revision: 4, by: 'C. Third', reason: 'all sides', title: 'Shell, all sides' });
    await page.getByRole('navigation', { name: 'Revisions' }).getByRole('link', { name: 'Revision 2' }).click();
    await page.getByText('This is not the latest revision.').waitFor();
    expect(await page.getByText('Saved as revision 4.').count()).toBe(0);
    await page.getByRole('link', { name: 'View latest' }).click();
    await page.getByText('This is not the latest revision.').waitFor({ state: 'detached' });
    expect(await page.getByText('Saved as revision 4.').count()).toBe(0);
    await closePages(browser);
  });

  it('says how limits that are not watched while welding are used', async () => {
    const page = await open('procedure/W-1');
    const row = async (name: RegExp): Promise<string> => await page.getByRole('row', { name }).first().innerText();
    await page.getByRole('row', { name: /^Interpass temperature/ }).waitFor();
    expect(await row(/^Interpass temperature/)).toContain('checked before arc start; alarm as the arc starts');
    expect(await row(/^Cooling time t8\/5/)).not.toContain('monitored');
    expect(await row(/^Preheat temperature/)).toContain('checked before arc start; alarm as the arc starts');
    expect(await row(/^Travel speed/)).not.toContain('monitored');
    await page.goto(`${service.http}/#/procedure`);
    await page.getByLabel('Mean heat input, priority').waitFor();
    expect(await page.getByText('checked before arc start; alarm as the arc starts').count()).toBe(4);
    expect(await row(/^Mean heat input/)).toContain('checked at the end of the run; no alarm');
    await closePages(browser);
  });

  it('says defaults in a comparison, and compares any two revisions', async () => {
    const page = await open('procedure/W-1?revision=2');
    await page.getByText('On-delay: 1 s (default) → 2 s.').waitFor();
    await page.getByLabel('compared with').selectOption('3');
    await page.getByText('Title: “Shell, both sides” → “Shell longitudinal”.').waitFor();
    expect(page.url()).toContain('against=3');
    await page.getByLabel('Revision', { exact: true }).selectOption('3');
    await page.getByLabel('compared with').selectOption('1');
    await page.getByRole('heading', { name: 'Changes from revision 1 to 3' }).waitFor();
    expect((await page.locator('.differences li').allInnerTexts()).map((text) => text.replaceAll('\u00a0', ' '))).toEqual(['Title: “Shell longitudinal” → “Shell, both sides”.', 'On-delay: 1 s (default) → 2 s.']);
    expect(await page.getByText('fewer short alarms').isVisible()).toBe(true);
    await closePages(browser);
  });

  it('shows what is wrong in the place of the hint, and nothing lies over anything else', async () => {
    const page = await open('procedure');
    await page.getByRole('button', { name: 'Save as revision 1' }).click();
    await page.locator('.not-saved').waitFor();
    const fields = page.locator('.fields .field');
    for (let at = 0; at < (await fields.count()); at += 1) expect(await overlaps(fields.nth(at)), await fields.nth(at).innerText()).toEqual([]);
    const id = page.locator('.field', { has: page.getByLabel('Identifier') });
    expect(await id.locator('.hint').count()).toBe(0);
    await page.getByLabel('Identifier').fill('W-2');
    await id.locator('.hint').waitFor();
    const required = await page.locator('[aria-required=true]').evaluateAll((all) => all.map((own) => (own as HTMLElement).dataset['field']));
    expect(required).toEqual(['id', 'runGroups[0].runs[0]', 'runGroups[0].runs[1]', 'runGroups[0].arcs[0].arc', 'by']);
    await closePages(browser);
  });

  it('accepts a decimal comma, says how it was understood, and asks if the comma could group thousands', async () => {
    const page = await open('procedure');
    for (const [label, text] of [['Identifier', 'W-3'], ['Your name', 'J. Weber'], ['First run', '1'], ['Last run', '1'], ['Current, min, A', '550,5'], ['Travel speed, max, mm/min', '1,200']] as const) await page.getByLabel(label, { exact: true }).fill(text);
    await page.getByText('stored as 550.5 A').waitFor();
    await page.getByRole('button', { name: 'Save as revision 1' }).click();
    await page.getByText('Not saved: please correct 1 field.').waitFor();
    await page.getByText('Ambiguous comma: enter e.g. 1234 or 1.234.').first().waitFor();
    await page.getByLabel('Travel speed, max, mm/min').fill('1200');
    await page.getByRole('button', { name: 'Save as revision 1' }).click();
    await page.getByText('Saved as revision 1.').waitFor();
    expect((await stored('W-3')).runGroups).toMatchObject([{ travelSpeed: { max: 1200 }, arcs: [{ current: { min: 550.5 } }] }]);
    await closePages(browser);
  });

  it('begins a new procedure as a copy, and leads to every part of the form', async () => {
    const page = await open('procedure/W-1?revision=1');
    await page.getByRole('link', { name: 'Copy to new procedure' }).click();
    await page.getByRole('heading', { name: 'New procedure, copied from W-1, revision 1' }).waitFor();
    expect(await page.getByLabel('Identifier').inputValue()).toBe('');
    expect(await page.getByLabel('Voltage, action in Chinese').inputValue()).toBe('检查导电嘴。');
    await page.getByRole('navigation', { name: 'On this page' }).getByRole('button', { name: 'Alarm settings' }).press('Enter');
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('part-alarms');
    await page.getByLabel('Identifier').fill('W-4');
    await page.getByLabel('Your name').fill('J. Weber');
    await page.getByRole('button', { name: 'Save as revision 1' }).click();
    await page.getByText('Saved as revision 1.').waitFor();
    const { id, by, ...content } = first;
    expect(await stored('W-4')).toMatchObject({ ...content, id: 'W-4', by });
    expect(id).not.toBe('W-4');
    await closePages(browser);
  });

  it('gives wire sizes as fractions of an inch and takes them, and rounds what it converts', async () => {
    const page = await open('procedure/W-1', { choices: { units: 'us' } });
    await page.getByText('5/32 in (4 mm)').waitFor();
    // 15 mm / 25.4 = 0.59055 in.
    await page.getByText('0.59 in (default) (15 mm)').waitFor();
    await page.goto(`${service.http}/#/procedure`);
    await page.getByLabel('Wire diameter, in').fill('3/16');
    // 3/16 · 25.4 = 4.7625 mm.
    await page.getByText('stored as 4.7625 mm').waitFor();
    await closePages(browser);
  });

  it('says how many runs use it, and gives the alarm its action in both languages', async () => {
    await sendSteadyRun(service, 'c1', 'S-1', { procedure: 'W-1', side: 1 });
    const { items } = (await (await fetch(`${service.http}/api/alarms`)).json()) as { readonly items: readonly Alarm[] };
    expect(items.find((alarm) => alarm.quantity === 'voltage')).toMatchObject({ response: 'Check the contact tip.', responses: { zh: '检查导电嘴。' } });
    const page = await open('procedure/W-1');
    expect(await page.getByRole('link', { name: 'Used by 1 run' }).getAttribute('href')).toBe('#/runs?procedure=W-1');
    expect(await page.getByRole('navigation', { name: 'Revisions' }).getByRole('listitem').allInnerTexts()).toEqual(expect.arrayContaining([expect.stringContaining('1 run'), expect.stringContaining('no runs')]));
    await closePages(browser);
  });

  for (const address of ['procedures', 'procedure', 'procedure/W-1', 'procedure/W-1?edit=yes']) {
    it(`fits a phone: ${address}`, async () => {
      const page = await open(address, { width: 390 });
      await page.locator('.part, .procedure-list').first().waitFor();
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
      const wide = await page.locator('main input, main select, main button, main td, main th').evaluateAll((all) => all.filter((own) => own.getBoundingClientRect().right > 390).map((own) => own.outerHTML));
      expect(wide).toEqual([]);
      await closePages(browser);
    });
  }
});

/** Which children of an element lie over one another. */
async function overlaps(field: Locator): Promise<string[]> {
  return await field.evaluate((own) => {
    const boxes = Array.from(own.children).map((child) => ({ child, box: child.getBoundingClientRect() }));
    return boxes.flatMap(({ child, box }, at) => boxes.slice(at + 1).filter((other) => box.bottom > other.box.top + 0.5 && other.box.bottom > box.top + 0.5).map((other) => `${child.className} ${other.child.className}`));
  });
}
