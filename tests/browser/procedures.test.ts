import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Procedure } from '../../shared/api-types/procedure.js';
import { closePages, hasBrowser, openBrowser, openPage } from './open-browser.js';
import { runAxe } from './run-axe.js';
import { startService } from './start-service.js';
import type { ServiceUnderTest } from './start-service.js';

describe.skipIf(!hasBrowser)('the pages of procedures', () => {
  let service: ServiceUnderTest;
  let browser: Browser;
  beforeAll(async () => {
    service = await startService();
    browser = await openBrowser();
  });
  afterAll(async () => {
    await browser.close();
    await service.remove();
  });

  const stored = async (id: string, revision = ''): Promise<Procedure> => (await (await fetch(`${service.http}/api/procedures/${id}${revision}`)).json()) as Procedure;
  const post = async (path: string, body: object): Promise<void> => {
    const answer = await fetch(service.http + path, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) });
    expect(answer.status).toBe(201);
  };
  const open = async (address: string, choices: Readonly<Record<string, string>> = {}): Promise<{ page: Page; complaints: string[] }> => {
    const { page, complaints } = await openPage(browser, { choices });
    await page.goto(`${service.http}/#/${address}`);
    return { page, complaints };
  };

  it('explains what a procedure is while there is none, and makes one by keyboard alone', async () => {
    const { page, complaints } = await open('procedures');
    await page.getByRole('heading', { name: 'No procedures yet' }).waitFor();
    await tabTo(page, 'Create the first procedure');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'New procedure' }).waitFor();
    const typed = [
      ['Identifier', 'SA-12'], ['Title', '20 mm butt'], ['First run', '1'], ['Last run', '2'],
      ['Travel speed, min, mm/min', '450'], ['Travel speed, max, mm/min', '560'], ['Current, min, A', '580'], ['Current, max, A', '680'],
      ['Voltage, priority', 'high'], ['Voltage, operator action', 'check the contact tube'], ['Your name', 'A. Engineer'],
    ] as const;
    for (const [label, text] of typed) {
      await tabTo(page, label);
      await page.keyboard.type(text);
    }
    // Enter in a field stores nothing.
    await page.keyboard.press('Enter');
    await tabTo(page, 'Save as revision 1');
    expect((await fetch(`${service.http}/api/procedures/SA-12`)).status).toBe(404);
    await page.keyboard.press('Enter');
    await page.getByText('Saved as revision 1.').waitFor();
    expect(await stored('SA-12')).toMatchObject({
      id: 'SA-12', title: '20 mm butt', revision: 1, by: 'A. Engineer',
      runGroups: [{ runs: [1, 2], travelSpeed: { min: 450, max: 560 }, arcs: [{ arc: 1, current: { min: 580, max: 680 } }] }],
      alarm: { windows: { voltage: { priority: 'high', response: 'check the contact tube' } } },
    });
    await page.goto(`${service.http}/#/procedures`);
    expect((await page.getByRole('row', { name: /SA-12/ }).innerText()).replace(/\s+/g, ' ')).toMatch(/^SA-12 20 mm butt 1 runs 1 to 2 A\. Engineer 20/);
    expect(complaints).toEqual([]);
    await closePages(browser);
  });

  it('says what is wrong at the field, goes to the first, and stores nothing', async () => {
    const { page } = await open('procedure');
    await page.getByLabel('Identifier').fill('not/this');
    await page.getByLabel('Thermal efficiency k').fill('1.2');
    await page.getByLabel('First run').fill('3');
    await page.getByLabel('Last run').fill('1');
    await page.getByLabel('Voltage, min, V').fill('30.5 V');
    await page.getByLabel('Current, min, A').fill('700');
    await page.getByLabel('Current, max, A').fill('600');
    await page.getByRole('button', { name: 'Save as revision 1' }).click();
    await page.getByText('Not saved: please correct 6 fields.').waitFor();
    const wrong = async (label: string): Promise<string> => {
      const input = page.getByLabel(label, { exact: true });
      expect(await input.getAttribute('aria-invalid'), label).toBe('true');
      const [at = ''] = ((await input.getAttribute('aria-describedby')) ?? '').split(' ');
      return (await page.locator(`#${at}`).innerText()).trim();
    };
    expect(await wrong('Identifier')).toBe('1 to 64 letters, digits and . _ -; must not start with a dot.');
    expect(await wrong('Thermal efficiency k')).toBe('Must be 1 or less.');
    expect(await wrong('First run')).toBe('First is after last.');
    expect(await wrong('Voltage, min, V')).toBe('Enter a number, e.g. 30.5 or 30,5, without thousands separators.');
    expect(await wrong('Current, min, A')).toBe('Min is above max.');
    expect(await page.evaluate(() => (document.activeElement as HTMLElement | null)?.dataset['field'])).toBe('id');
    await page.getByRole('button', { name: 'Run group 1, Arc 1, Voltage, min' }).click();
    expect(await page.evaluate(() => (document.activeElement as HTMLElement | null)?.dataset['field'])).toBe('runGroups[0].arcs[0].voltage.min');
    expect(await page.getByLabel('Voltage, min, V').inputValue()).toBe('30.5 V');
    await closePages(browser);
  });

  it('says that the identifier is taken, and loses nothing that was typed', async () => {
    await post('/api/procedures', { id: 'SA-TAKEN' });
    const { page } = await open('procedure');
    await page.getByLabel('Identifier').fill('SA-TAKEN');
    await page.getByLabel('Title').fill('mine');
    await page.getByLabel('Your name').fill('A. Engineer');
    await page.getByLabel('First run').fill('1');
    await page.getByLabel('Last run').fill('1');
    await page.getByRole('button', { name: 'Save as revision 1' }).click();
    await page.getByText('Not saved: procedure SA-TAKEN already exists.').waitFor();
    expect(await page.evaluate(() => (document.activeElement as HTMLElement | null)?.dataset['field'])).toBe('id');
    await page.getByLabel('Identifier').fill('SA-FREE');
    await page.getByRole('button', { name: 'Save as revision 1' }).click();
    await page.getByText('Saved as revision 1.').waitFor();
    expect((await stored('SA-FREE')).title).toBe('mine');
    await closePages(browser);
  });

  it('makes a revision, shows what it changes, and keeps older ones to be read', async () => {
    await post('/api/procedures', { id: 'SA-20', title: 'first', runGroups: [{ name: 'all', runs: [1, 9], travelSpeed: { min: 450, max: 560 } }] });
    const { page, complaints } = await open('procedure/SA-20?edit=yes');
    await page.getByText('No differences from revision 1.').waitFor();
    await page.getByLabel('Your name').fill('A. Engineer');
    await page.getByRole('button', { name: 'Save as revision 2' }).click();
    await page.getByText('Not saved: nothing differs from revision 1.').waitFor();
    await page.getByLabel('Travel speed, max, mm/min').fill('580');
    await page.getByText('Travel speed: 450 mm/min to 560 mm/min → 450 mm/min to 580 mm/min.').waitFor();
    await page.getByText('Your changes make revision 2; new runs use it').waitFor();
    await page.getByRole('button', { name: 'Save as revision 2' }).click();
    await page.getByText('Saved as revision 2.').waitFor();
    await page.getByRole('heading', { name: 'Changes from revision 1 to 2' }).waitFor();
    expect((await stored('SA-20')).runGroups?.[0]?.travelSpeed).toEqual({ min: 450, max: 580 });
    expect((await stored('SA-20', '?revision=1')).runGroups?.[0]?.travelSpeed).toEqual({ min: 450, max: 560 });
    await page.getByRole('navigation', { name: 'Revisions' }).getByRole('link', { name: 'Revision 1' }).click();
    await page.getByText('This is not the latest revision. Revision 2 applies to new runs.').waitFor();
    expect(page.url()).toContain('#/procedure/SA-20?revision=1');
    expect(await page.getByRole('row', { name: /^Travel speed/ }).first().innerText()).toMatch(/450\s+560\s+mm\/min/);
    expect(await page.locator('main input').count()).toBe(0);
    expect(await page.getByRole('button', { name: /Save/ }).count()).toBe(0);
    expect(complaints).toEqual([]);
    await closePages(browser);
  });

  it('says that somebody else made a revision meanwhile, and saves on top of it when asked again', async () => {
    await post('/api/procedures', { id: 'SA-30', title: 'first' });
    const { page } = await open('procedure/SA-30?edit=yes');
    await page.getByLabel('Title').fill('mine');
    await page.getByLabel('Your name').fill('A. Engineer');
    await post('/api/procedures/SA-30/revisions', { title: 'theirs', by: 'B. Other' });
    await page.getByRole('button', { name: 'Save as revision 2' }).click();
    await page.getByText(/B\. Other saved revision 2 in the meantime/).waitFor();
    await page.getByText('Title: “theirs” → “mine”.').waitFor();
    await page.getByRole('button', { name: 'Save as revision 3' }).click();
    await page.getByText('Saved as revision 3.').waitFor();
    expect((await stored('SA-30')).title).toBe('mine');
    await closePages(browser);
  });

  it('keeps what was typed over an error of the service, a lost connection and a reload', async () => {
    const { page } = await open('procedure');
    await page.getByLabel('Identifier').fill('SA-40');
    await page.getByLabel('Title').fill('kept');
    await page.getByLabel('Your name').fill('A. Engineer');
    await page.getByLabel('First run').fill('1');
    await page.getByLabel('Last run').fill('1');
    await page.route('**/api/procedures', (route) => route.fulfill({
      status: 400, contentType: 'application/problem+json',
      body: JSON.stringify({ type: 'about:blank', title: 'Bad Request', status: 400, detail: 'x', instance: '/api/procedures', errors: [{ field: 'runGroups[0].runs', reason: 'takes other runs' }, { field: 'weather', reason: 'is not known here' }] }),
    }));
    const save = page.getByRole('button', { name: 'Save as revision 1' });
    await save.click();
    await page.getByText('The server says: takes other runs.').first().waitFor();
    expect(await page.evaluate(() => (document.activeElement as HTMLElement | null)?.dataset['field'])).toBe('runGroups[0].runs[0]');
    await page.getByText('weather: The server says: is not known here.').waitFor();
    await page.unroute('**/api/procedures');
    await page.route('**/api/procedures', (route) => route.fulfill({ status: 503, contentType: 'application/problem+json', body: JSON.stringify({ type: 'about:blank', title: 'Service Unavailable', status: 503, detail: 'The disk is full.', instance: '/' }) }));
    await save.click();
    await page.getByText('Not saved: the server answered 503. The disk is full.').waitFor();
    await page.unroute('**/api/procedures');
    await service.stop();
    await save.click();
    await page.getByText('Not saved: no answer from the server.').waitFor();
    expect(await page.getByLabel('Title').inputValue()).toBe('kept');
    await service.startAgain();
    await page.reload();
    await page.getByText('Unsaved entries restored.').waitFor();
    expect(await page.getByLabel('Title').inputValue()).toBe('kept');
    await save.click();
    await page.getByText('Saved as revision 1.').waitFor();
    await page.goto(`${service.http}/#/procedure`);
    expect(await page.getByLabel('Title').inputValue()).toBe('');
    await closePages(browser);
  });

  it('accepts US units, stores metric ones and shows both', async () => {
    const { page } = await open('procedure', { units: 'us' });
    await page.getByLabel('Identifier').fill('SA-50');
    await page.getByLabel('Your name').fill('A. Engineer');
    await page.getByLabel('First pass').fill('1');
    await page.getByLabel('Last pass').fill('1');
    // 22 in/min · 25.4 = 558.8 mm/min; 50 kJ/in / 25.4 = 1.968504 kJ/mm; (480 − 32) / 1.8 = 248.8889 °C.
    await page.getByLabel('Travel speed, max, in/min').fill('22');
    await page.getByLabel('Heat input, max, kJ/in').fill('50');
    await page.getByLabel('Interpass temperature, max, °F').fill('480');
    await page.getByText('stored as 558.8 mm/min').waitFor();
    await page.getByText('stored as 1.968504 kJ/mm').waitFor();
    await page.getByRole('button', { name: 'From nominal ± % …: Travel speed' }).click();
    await page.getByLabel('Nominal, in/min').fill('20');
    // 20 ± 15 %: 17 to 23.
    await page.getByText('17 in/min to 23 in/min, rounded inwards').waitFor();
    await page.getByText('Check it against the code that governs your work').waitFor();
    await page.getByRole('button', { name: 'Close' }).click();
    await page.getByRole('button', { name: 'Save as revision 1' }).click();
    await page.getByText('Saved as revision 1.').waitFor();
    expect((await stored('SA-50')).runGroups?.[0]).toMatchObject({ travelSpeed: { max: 558.8 }, heatInput: { max: 1.968504 }, interpassTemperature: { max: 248.8889 } });
    await page.getByRole('link', { name: 'Edit' }).click();
    expect(await page.getByLabel('Heat input, max, kJ/in').inputValue()).toBe('50');
    expect(await page.getByLabel('Interpass temperature, max, °F').inputValue()).toBe('480');
    await closePages(browser);
  });

  it('fills in a window from a mean, by keyboard, rounding inwards', async () => {
    const { page } = await open('procedure');
    await tabTo(page, 'From nominal ± % …: Current');
    await page.keyboard.press('Enter');
    // Focus goes to the field with the next drawing.
    await page.waitForFunction(() => document.activeElement instanceof HTMLInputElement);
    await page.keyboard.type('234.8');
    await page.getByText('211.32 A to 258.28 A, rounded inwards to 212 A to 258 A.').waitFor();
    expect(await page.getByLabel('Current, min, A').inputValue()).toBe('');
    await page.keyboard.press('Enter');
    expect(await page.getByLabel('Current, min, A').inputValue()).toBe('212');
    expect(await page.getByLabel('Current, max, A').inputValue()).toBe('258');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('data-help'))).toBe('current');
    await closePages(browser);
  });

  it('moves, removes and puts back run groups and arcs', async () => {
    const { page } = await open('procedure');
    await page.getByLabel('Name', { exact: true }).fill('root');
    await page.getByRole('button', { name: 'Add run group' }).click();
    await page.getByLabel('Name', { exact: true }).nth(1).fill('cap');
    await page.getByRole('button', { name: 'Move up: Run group 2' }).click();
    const names = async (): Promise<string[]> => await page.getByLabel('Name', { exact: true }).evaluateAll((all) => all.map((own) => (own as HTMLInputElement).value));
    expect(await names()).toEqual(['cap', 'root']);
    await page.getByRole('button', { name: 'Remove: Run group 1' }).click();
    expect(await names()).toEqual(['root']);
    await page.keyboard.press('Enter');
    expect(await names()).toEqual(['cap', 'root']);
    await page.getByRole('button', { name: 'Add arc' }).first().click();
    expect(await page.getByLabel('Arc number').nth(1).inputValue()).toBe('2');
    await closePages(browser);
  });

  it('speaks Chinese', async () => {
    const { page } = await open('procedure/SA-12?edit=yes', { language: 'zh' });
    await page.getByRole('heading', { name: '各焊道的限值' }).waitFor();
    expect(await page.getByLabel('焊接速度，上限，mm/min').inputValue()).toBe('560');
    await page.getByLabel('热效率系数 k').fill('x');
    await page.getByRole('button', { name: '保存为第 2 版' }).click();
    await page.getByText('请输入数字').first().waitFor();
    const text = await page.locator('main').innerText();
    // English words that remain are units, names of standards, and what was typed.
    expect(text.replace(/[A-Za-z]+-?\d[\d.:]*|check the contact tube|20 mm butt|A\. Engineer|local|EN 1011-1|ISO|mm\/min|m\/min|kJ\/mm|t8\/5|DC|AC|EP|EN|PA|SA|mm|\b[kAVsm]\b|x/g, '')).not.toMatch(/[A-Za-z]{3,}/);
    await closePages(browser);
  });

  it('axe-core finds nothing', async () => {
    const { page } = await openPage(browser);
    for (const address of ['procedures', 'procedure/SA-20', 'procedure/SA-20?revision=1', 'procedure/SA-20?edit=yes', 'procedure/NONE', 'procedure']) {
      await page.goto(`${service.http}/#/${address}`);
      // Only the part behind # changes, so the previous page could still be there.
      await page.reload();
      await page.locator('.part, .procedure-list, .empty').first().waitFor();
      expect(await runAxe(page), address).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth), address).toBe(true);
    }
    await page.getByRole('button', { name: 'From nominal ± % …: Voltage' }).click();
    await page.getByRole('button', { name: 'Save as revision 1' }).click();
    await page.locator('.not-saved').waitFor();
    expect(await runAxe(page), 'with errors').toEqual([]);
    await closePages(browser);
  });
});

/** Presses Tab until what has that name is focused. */
async function tabTo(page: Page, name: string): Promise<void> {
  for (let step = 0; step < 120; step += 1) {
    const own = await page.evaluate(() => {
      const element = document.activeElement;
      if (!(element instanceof HTMLElement)) return '';
      const label = element.id === '' ? null : document.querySelector(`label[for="${element.id}"]`);
      return (element.getAttribute('aria-label') ?? label?.textContent ?? element.textContent).trim();
    });
    if (own === name) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`Tab does not come to ${name}`);
}
