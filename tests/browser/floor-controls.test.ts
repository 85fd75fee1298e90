import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { madeCarriage } from './made-carriages.js';
import { hasBrowser } from './open-browser.js';
import type { PageOptions, WatchedPage } from './open-browser.js';
import { runAxe } from './run-axe.js';
import { useFakeService } from './use-fake-service.js';

const wall = { viewport: { width: 1920, height: 1080 } };
const earlier = (ms: number): string => new Date(Date.now() - ms).toISOString();

/** What is read at a place, with plain spaces. */
const textAt = async (place: Locator): Promise<string> => (await place.innerText()).replaceAll('\u00a0', ' ');

async function placeIn(own: Locator, x: number, y: number): Promise<[number, number]> {
  const box = await own.boundingBox();
  return [(box?.x ?? 0) + x, (box?.y ?? 0) + y];
}

describe.skipIf(!hasBrowser)('what can be pressed on the floor', () => {
  const { service, openAt } = useFakeService(wall);

  const open = async (options: PageOptions = {}): Promise<WatchedPage> => await openAt('', options);
  const order = async (page: Page): Promise<(string | null)[]> => await page.locator('[data-carriage]').evaluateAll((tiles) => tiles.map((tile) => tile.getAttribute('data-carriage')));

  it('removes a carriage that is gone, after a question and with a name', async () => {
    service.tell(madeCarriage('c1'), madeCarriage('t7', { welding: false, run: null }));
    const { page } = await open();
    await page.getByRole('button', { name: 'More on t7' }).click();
    const dialog = page.getByRole('dialog', { name: 'Carriage t7, hall-a' });
    expect(await dialog.getByRole('link').allInnerTexts()).toEqual(['Station', 'All runs of this carriage', 'Alarms of this carriage']);
    await dialog.getByRole('button', { name: 'Remove from the shop floor …' }).click();
    await dialog.getByRole('button', { name: 'Remove', exact: true }).click();
    await dialog.getByText('Required – so others know whom to ask.').waitFor();
    await dialog.getByLabel('Your name').fill('sup-1');
    await dialog.getByLabel('Your name').press('Enter');
    await expect.poll(() => order(page)).toEqual(['hall-a/c1']);
    expect(service.writes.at(-1)?.path).toBe('/api/carriages/hall-a/t7');
  });

  it.each([29, 52])('leads on from any of %i small tiles by a tap on it, with links and buttons that a finger meets', async (count) => {
    service.tell(...Array.from({ length: count }, (_, at) => madeCarriage(`c${at + 1}`)));
    const { page, complaints } = await open({ viewport: { width: 1024, height: 768 }, hasTouch: true, isMobile: true });
    const tile = page.locator('[data-carriage="hall-a/c5"]');
    await tile.waitFor();
    expect(await page.locator('.tile:is(.tile-pair, .tile-line)').count()).toBeGreaterThan(0);
    const { width = 0, height = 0 } = (await tile.boundingBox()) ?? {};
    for (const share of [0.1, 0.5, 0.98]) {
      await page.touchscreen.tap(...(await placeIn(tile, width * share, height / 2)));
      const dialog = page.getByRole('dialog', { name: 'Carriage c5, hall-a' });
      await dialog.getByRole('link', { name: 'Station' }).waitFor();
      const sizes = await dialog.locator('a, button').evaluateAll((all) => all.map((own) => own.getBoundingClientRect().height));
      // WCAG 2.2, 2.5.5: 44 CSS px.
      expect(Math.min(...sizes)).toBeGreaterThanOrEqual(44);
      expect(await runAxe(page)).toEqual([]);
      await dialog.getByRole('button', { name: 'Close' }).tap();
    }
    expect(complaints).toEqual([]);
  });

  it('shows refused messages with the reasons, from the floor', async () => {
    service.tell(madeCarriage('c1'));
    service.refuse({ id: '1', receivedAt: earlier(5_000), topic: 'weld/hall-a/c11/readings', reason: 'current: got "612,4"; expected: a number', size: 33, head: '{"current":"612,4"}' });
    const { page, complaints } = await open();
    await page.getByRole('link', { name: '1 message refused – see why' }).click();
    await page.getByRole('heading', { name: 'Refused messages' }).waitFor();
    // It is not one of the pages that the header leads to.
    expect(await page.locator('header [aria-current]').count()).toBe(0);
    await expect.poll(() => textAt(page.locator('.refused tbody'))).toMatch(/weld\/hall-a\/c11\/readings\s+current: got "612,4"; expected: a number\s+33 B\s+\{"current":"612,4"\}/);
    expect(await runAxe(page)).toEqual([]);
    service.refuse();
    expect(complaints).toEqual([]);
  });

  it('has nothing to press on a wall screen, and takes theme, language and units from the address', async () => {
    service.tell(madeCarriage('c1'), madeCarriage('c1', { site: 'hall-b' }));
    const { page } = await open();
    await page.goto(`${service.http}/#/?kiosk=1&theme=dark&language=zh&units=us&site=hall-b`);
    await expect.poll(() => page.locator('html').getAttribute('data-theme')).toBe('dark');
    await expect.poll(() => order(page)).toEqual(['hall-b/c1']);
    expect(await page.locator('a:not(.skip), button, select, input').count()).toBe(0);
    expect(await textAt(page.locator('.tile'))).toMatch(/in\/min/);
    expect(await page.locator('html').getAttribute('lang')).toBe('zh-CN');
    expect(await page.locator('footer').last().innerText()).toContain('不是安全装置');
  });

  it('counts what was welded in the current shift, by its name and times, in all halls or in one', async () => {
    // Berlin: an hour ago began a shift, whatever the time is; before that another one.
    const clock = (ms: number): string => new Intl.DateTimeFormat('en-GB', { timeZone: 'Europe/Berlin', hour: '2-digit', minute: '2-digit', hourCycle: 'h23' }).format(ms);
    const begins = clock(Date.now() - 3_600_000);
    const ends = clock(Date.now() + 4 * 3_600_000);
    const run = (id: string, ago: number, more: object): object => ({ id, site: 'hall-a', carriage: 'c1', startedAt: earlier(ago), excursions: 0, length: 1000, ...more });
    service.know({
      shifts: [{ name: 'late', begins }, { name: 'night', begins: ends }].sort((a, b) => (a.begins < b.begins ? -1 : 1)),
      runs: [run('r1', 60_000, {}), run('r2', 120_000, { excursions: 2, length: 2345.4 }), run('r3', 180_000, { site: 'hall-b', length: null }), run('r0', 2 * 3_600_000, { excursions: 1 })],
    });
    service.tell(madeCarriage('c1'), madeCarriage('c1', { site: 'hall-b' }));
    const { page } = await open();
    // 1000 + 2345.4 = 3345.4 mm; the run before the shift does not count.
    await expect.poll(() => textAt(page.locator('.floor-today'))).toContain(`Shift “late” (${begins}–${ends}): 3 runs · 1 with excursions · 3345 mm welded`);
    expect(await page.getByRole('link', { name: '3 runs' }).getAttribute('href')).toBe('#/runs?period=shift');
    await page.getByRole('combobox', { name: /^Hall/ }).selectOption('hall-a');
    await expect.poll(() => textAt(page.locator('.floor-today'))).toContain('2 runs · 1 with excursions · 3345 mm welded');
    expect(await page.getByRole('link', { name: '1 with excursions' }).getAttribute('href')).toBe('#/runs?period=shift&site=hall-a&excursions=true');
    service.forget();
    service.tell(madeCarriage('c1'));
    await page.goto(`${service.http}/#/`);
    await page.reload();
    await expect.poll(() => textAt(page.locator('.floor-today'))).toMatch(/^Today: 0 runs/);
  });

  it('leads from every tile to the run and to the last ones, where tiles are small as well', async () => {
    service.tell(...Array.from({ length: 50 }, (_, at) => madeCarriage(`c${at + 1}`, at === 0 ? { welding: false, run: null, lastRun: 'run-before' } : {})));
    const { page } = await open();
    await page.locator('[data-carriage]').nth(49).waitFor();
    await page.getByRole('button', { name: 'More on c7', exact: true }).press('Enter');
    const dialog = page.getByRole('dialog', { name: 'Carriage c7, hall-a' });
    const links = async (): Promise<(string | null)[]> => await dialog.getByRole('link').evaluateAll((all) => all.map((own) => own.getAttribute('href')));
    expect(await links()).toEqual(['#/station/hall-a/c7', '#/run/run-c7', '#/runs?site=hall-a&carriage=c7', '#/alarms?site=hall-a&carriage=c7']);
    await dialog.getByRole('button', { name: 'Close' }).click();
    await page.locator('[data-carriage="hall-a/c1"]').hover();
    await page.getByRole('button', { name: 'More on c1', exact: true }).click();
    expect(await page.getByRole('dialog', { name: 'Carriage c1, hall-a' }).getByRole('link', { name: 'Last run' }).getAttribute('href')).toBe('#/run/run-before');
  });

  it('parts halls, each with its heading, and shows one alone by the address', async () => {
    service.tell(...['hall-a', 'hall-b'].flatMap((site) => ['c1', 'c2'].map((name) => madeCarriage(name, { site }))));
    const { page } = await open();
    await expect.poll(() => page.locator('.hall').allInnerTexts()).toEqual(['hall-a', 'hall-b']);
    await page.getByRole('combobox', { name: /^Hall/ }).selectOption('hall-b');
    await expect.poll(() => order(page)).toEqual(['hall-b/c1', 'hall-b/c2']);
    expect(page.url()).toContain('site=hall-b');
  });

  it('fits a phone on every page, under a header of at most 110 px', async () => {
    service.tell(madeCarriage('c1'), madeCarriage('c2'));
    const { page } = await open({ viewport: { width: 390, height: 844 } });
    for (const [address, shown] of [['', '.tile'], ['alarms', '.alarm-rates'], ['refused', '.empty'], ['nope', '.empty']] as const) {
      await page.goto(`${service.http}/#/${address}`);
      await page.locator(shown).first().waitFor();
      const seen = await page.evaluate(() => ({ header: document.querySelector('header')?.getBoundingClientRect().height ?? 999, width: document.documentElement.scrollWidth }));
      expect(seen.header, address).toBeLessThanOrEqual(110);
      expect(seen.width, address).toBeLessThanOrEqual(390);
    }
    await expect.poll(() => page.title()).toBe('Page not found · Seamwarden');
  });

  it('shows no ring on a heading that is only read out', async () => {
    service.tell(madeCarriage('c1'));
    const { page } = await open();
    const link = page.getByRole('link', { name: 'Alarms', exact: true });
    await link.focus();
    await page.keyboard.press('Enter');
    await expect.poll(() => page.evaluate(() => document.activeElement?.tagName)).toBe('H1');
    expect(await page.evaluate(() => getComputedStyle(document.activeElement ?? document.body).outlineStyle)).toBe('none');
  });

  it('keeps light or dark by choice, whatever the system asks for', async () => {
    service.tell(madeCarriage('c1'));
    const { page } = await open({ colorScheme: 'light' });
    await page.getByRole('button', { name: 'Menu' }).click();
    await page.getByLabel('Appearance · 外观').selectOption('dark');
    await expect.poll(() => page.locator('html').getAttribute('data-theme')).toBe('dark');
    await page.reload();
    await expect.poll(() => page.locator('html').getAttribute('data-theme')).toBe('dark');
  });
});
