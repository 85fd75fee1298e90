import type { Browser, Locator, Page } from 'playwright-core';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { FakeService } from './fake-service.js';
import { startFakeService } from './fake-service.js';
import { atVoltage, madeAlarm, madeCarriage } from './made-carriages.js';
import { hasBrowser, openBrowser, openPage } from './open-browser.js';
import { runAxe } from './run-axe.js';

const wall = { viewport: { width: 1920, height: 1080 } };
const earlier = (ms: number): string => new Date(Date.now() - ms).toISOString();
const toGo = (lengthToGo: number): Pick<Carriage, 'outlook'> => ({ outlook: { lengthToGo, endsAt: null, wire: [], absent: {} } });

/** What is read at a place, with plain spaces. */
const textAt = async (place: Locator): Promise<string> => (await place.innerText()).replaceAll('\u00a0', ' ');

/** One carriage in each state that the floor tells apart. */
const tellAll = (service: FakeService): void => {
  service.tell(
    madeCarriage('c1'),
    madeCarriage('c2', { ...atVoltage(35.2), alarms: [madeAlarm('c2', { raisedAt: earlier(20_000) })] }),
    madeCarriage('c3', { lastSeen: earlier(30_000) }),
    madeCarriage('c4', { welding: false, run: null, outlook: null }),
    madeCarriage('c5', { windows: null }),
    madeCarriage('c6', { travelSpeed: 3, alarms: [madeAlarm('c6', { quantity: 'travelStopped', arc: null, limit: 90, worst: 3, raisedAt: earlier(5_000) })] }),
    madeCarriage('c7', { online: false, welding: false, run: null, outlook: null }),
    madeCarriage('c10', { drift: [{ arc: 1, quantity: 'voltage', limit: 34, leavesIn: 41.2, leavesAfter: 350 }] }),
  );
};

describe.skipIf(!hasBrowser)('the floor', () => {
  let service: FakeService;
  let browser: Browser;
  beforeAll(async () => {
    service = await startFakeService();
    browser = await openBrowser();
  });
  beforeEach(() => {
    service.forget();
  });
  afterEach(async () => {
    service.mute(false);
    await Promise.all(browser.contexts().map(async (context) => { await context.close(); }));
  });
  afterAll(async () => {
    await browser.close();
    await service.stop();
  });

  const open = async (options = {}): Promise<{ page: Page; complaints: string[] }> => {
    const opened = await openPage(browser, { ...wall, ...options });
    await opened.page.goto(`${service.http}/#/`);
    return opened;
  };
  const order = async (page: Page): Promise<(string | null)[]> => await page.locator('[data-carriage]').evaluateAll((tiles) => tiles.map((tile) => tile.getAttribute('data-carriage')));

  it('says of each carriage in a word and a shape of its own how it is, those in trouble first, the others in their order', async () => {
    tellAll(service);
    const { page, complaints } = await open();
    await page.locator('[data-carriage="hall-a/c10"]').waitFor();
    // Both alarms are of high priority and unacknowledged: their carriages keep their order; the silent one follows, then the warned one.
    await expect.poll(() => order(page)).toEqual(['c2', 'c6', 'c3', 'c10', 'c1', 'c4', 'c5', 'c7'].map((name) => `hall-a/${name}`));
    const states = await page.locator('.tile-state').allInnerTexts();
    expect(states.map((text) => text.trim())).toEqual(['Out of range', 'Travel stopped', 'No data', 'In range', 'In range', 'Arc off', 'Not judged', 'Offline']);
    const shapes = await page.locator('.tile-state .mark').evaluateAll((marks) => marks.map((mark) => mark.innerHTML));
    const shapesOfWords = new Map(states.map((text, at) => [text.trim(), shapes[at]]));
    expect(new Set(['Out of range', 'In range', 'Arc off', 'Not judged', 'Offline'].map((word) => shapesOfWords.get(word))).size).toBe(5);

    const wrong = page.locator('[data-carriage="hall-a/c2"]');
    // 35.2 V against a limit of 34 V.
    expect(await textAt(wrong.locator('.tile-out'))).toBe('Voltage 1.2 V above');
    expect(await textAt(wrong)).toMatch(/DK-0417\/L2 · run 3/);
    expect(await textAt(wrong)).toMatch(/2430 mm to go · ends \d\d:\d\d/);
    expect(await textAt(page.locator('[data-carriage="hall-a/c10"]'))).toContain('Voltage leaves its window in about 41 s, 350 mm');
    // The one raised last, of all that stand.
    expect(await textAt(page.locator('.newest'))).toMatch(/^\s*Newest alarm \d\d:\d\d:\d\d c6: DK-0417\/L2: The carriage stands still with the arc on \(3 mm\/min\), since 1284\.5 mm on the seam\.$/);
    expect(await textAt(page.locator('.floor-summary'))).toMatch(/8 carriages\s+6 welding\s+3 in trouble\s+1 with a warning\s+newest data \d+(\.\d)? s old/);
    expect(complaints).toEqual([]);
  });

  it('follows an alarm from its raising to its end, by the alarm alone', async () => {
    service.tell(...['c1', 'c2', 'c3'].map((name) => madeCarriage(name)));
    const { page } = await open();
    await expect.poll(() => order(page)).toEqual(['hall-a/c1', 'hall-a/c2', 'hall-a/c3']);
    const alarm = madeAlarm('c3');
    service.tellAlarm(alarm);
    await expect.poll(() => order(page)).toEqual(['hall-a/c3', 'hall-a/c1', 'hall-a/c2']);
    // The newest value is back inside, the excursion lasts: what is said is how far out it was.
    expect(await textAt(page.locator('[data-carriage="hall-a/c3"] .tile-out'))).toBe('Voltage at worst 1.2 V above');
    service.tellAlarm({ ...alarm, returnedAt: new Date().toISOString(), state: 'returned' });
    const tile = page.locator('[data-carriage="hall-a/c3"]');
    await tile.getByText('In range', { exact: true }).waitFor();
    expect(await textAt(tile)).toContain('1 past, not acknowledged. Voltage of arc 1 was above 34.0 V, highest 35.2 V, since 1284.5 mm on the seam.');
    service.tellAlarm({ ...alarm, returnedAt: new Date().toISOString(), state: 'normal' });
    await expect.poll(() => order(page)).toEqual(['hall-a/c1', 'hall-a/c2', 'hall-a/c3']);
    expect(await textAt(page.locator('.newest'))).toBe('No alarm stands.');
  });

  it('strikes through what is older than 2 s while welding, and says its age', async () => {
    service.tell(madeCarriage('c1', { lastSeen: earlier(4_000) }), madeCarriage('c2'));
    const { page } = await open();
    const tile = page.locator('[data-carriage="hall-a/c1"]');
    await tile.getByText('No data', { exact: true }).waitFor();
    expect(await textAt(tile.locator('s'))).toMatch(/2430 mm to go/);
    expect(await textAt(tile.locator('.tile-out'))).toMatch(/^Was welding, nothing heard for \d+(\.\d)? s$/);
  });

  it('says that the connection is lost without taking the carriages for silent, and mends itself', async () => {
    service.tell(madeCarriage('c1'), madeCarriage('c2'));
    const { page, complaints } = await open();
    await page.getByText('Connected', { exact: true }).waitFor();
    await service.stop();
    await page.getByText(/The service does not answer since \d\d:\d\d:\d\d/).waitFor({ timeout: 15_000 });
    await expect.poll(() => page.locator('[data-carriage="hall-a/c1"]').getAttribute('data-verdict'), { timeout: 5_000 }).toBe('lost');
    expect(await textAt(page.locator('[data-carriage="hall-a/c1"]'))).toMatch(/Not known\s[\s\S]*last data \d+(\.\d)? s old/);
    expect(await textAt(page.locator('.floor-summary'))).toContain('none in trouble');
    await service.start();
    await page.getByText('Connected', { exact: true }).waitFor({ timeout: 20_000 });
    service.tell(madeCarriage('c1', toGo(2400)));
    await page.getByText('2400 mm to go').waitFor();
    expect(await page.locator('.banner').count()).toBe(0);
    expect(complaints).toEqual([]);
  });

  it('opens a feed anew that has gone dead without a word', async () => {
    service.tell(madeCarriage('c1', { lastSeen: earlier(1_000) }));
    const { page } = await open();
    await page.locator('[data-carriage="hall-a/c1"]').waitFor();
    service.mute(true);
    service.tell(madeCarriage('c1', { lastSeen: new Date(Date.now() + 8_000).toISOString(), ...toGo(2300) }));
    const opening = page.waitForRequest('**/api/live', { timeout: 30_000 });
    await opening;
    service.mute(false);
    service.tell(madeCarriage('c1', { lastSeen: new Date(Date.now() + 9_000).toISOString(), ...toGo(2199) }));
    await page.getByText('2199 mm to go').waitFor();
  });

  it('names what is wrong with the service itself', async () => {
    service.tell(madeCarriage('c1'));
    const storage = madeAlarm('', { id: 's1', site: null, carriage: null, run: null, arc: null, quantity: 'storage', limit: null, worst: null, travelled: null, seamPosition: null, response: null });
    service.tellAlarm(storage);
    const { page } = await open();
    await page.locator('.banner').waitFor();
    expect(await textAt(page.locator('.banner'))).toMatch(/^Storage takes no writes, since \d\d:\d\d:\d\d\.$/);
    service.tellAlarm({ ...storage, returnedAt: new Date().toISOString(), state: 'returned' });
    await page.locator('.banner').waitFor({ state: 'detached' });
  });

  for (const [width, height] of [[1920, 1080], [3840, 2160]] as const) {
    it.each([1, 5, 20, 50])(`shows %i carriages at ${width} × ${height} at once, with nothing cut off and nothing to scroll`, async (count) => {
      service.tell(...Array.from({ length: count }, (_, at) => madeCarriage(`c${at + 1}`, at === 1 ? { ...atVoltage(35.2), alarms: [madeAlarm('c2')] } : {})));
      const { page } = await open({ viewport: { width, height } });
      await expect.poll(() => page.locator('[data-carriage]').count()).toBe(count);
      expect(await page.locator('.floor-pager').count()).toBe(0);
      const seen = await page.evaluate(() => ({
        scrolls: document.documentElement.scrollHeight > window.innerHeight || document.documentElement.scrollWidth > window.innerWidth,
        outside: Array.from(document.querySelectorAll('.tile, .tile p'), (own) => own.getBoundingClientRect()).filter(({ right, bottom }) => right > window.innerWidth || bottom > window.innerHeight).length,
        cut: Array.from(document.querySelectorAll('.tile-state, .tile-name, .tile-seam, .tile-out, .tile-end p')).filter((own) => own.scrollWidth > own.clientWidth + 1).map((own) => own.textContent),
        over: Array.from(document.querySelectorAll('.tile')).filter((tile) => tile.scrollHeight > tile.clientHeight + 2).map((tile) => tile.textContent),
      }));
      expect(seen).toEqual({ scrolls: false, outside: 0, cut: [], over: [] });
    });
  }

  it('turns pages calmly where there are too many, keeps those in trouble, and can be held', async () => {
    service.tell(...Array.from({ length: 90 }, (_, at) => madeCarriage(`c${at + 1}`, at === 88 ? { ...atVoltage(35.2), alarms: [madeAlarm('c89')] } : {})));
    const { page } = await open();
    await page.locator('.floor-pager').waitFor();
    expect(await textAt(page.locator('.floor-pager p'))).toMatch(/^Page 1 of 2\. The next in \d+ s\. Carriages in trouble stay on every page\.$/);
    const first = await order(page);
    expect(first[0]).toBe('hall-a/c89');
    await page.getByRole('button', { name: 'Next page' }).press('Enter');
    await page.getByText('Page 2 of 2.').waitFor();
    const second = await order(page);
    expect(second[0]).toBe('hall-a/c89');
    expect(new Set([...first, ...second]).size).toBe(90);
    // Who turned a page holds it.
    expect(await textAt(page.locator('.floor-pager p'))).toContain('It stays until you let it go on.');
    await page.getByRole('button', { name: 'Go on by itself' }).click();
    expect(await textAt(page.locator('.floor-pager p'))).toMatch(/The next in \d+ s/);
  });

  it('speaks Chinese and US units where they are chosen, by keyboard, and remembers it', async () => {
    tellAll(service);
    const { page } = await open();
    const units = page.getByLabel('Units · 单位');
    await units.focus();
    await page.keyboard.press('ArrowDown');
    await expect.poll(() => units.inputValue()).toBe('us');
    const tile = page.locator('[data-carriage="hall-a/c2"]');
    // 2430 mm / 25.4 = 95.7 in; AWS says pass.
    await expect.poll(() => textAt(tile)).toMatch(/DK-0417\/L2 · pass 3[\s\S]*95\.7 in to go · ends/);
    await page.getByLabel('Language · 语言').selectOption('zh');
    await expect.poll(() => textAt(tile)).toMatch(/超出范围[\s\S]*电压偏高 1\.2 V/);
    expect(await page.locator('html').getAttribute('lang')).toBe('zh-CN');
    const english = (await textAt(page.locator('body'))).match(/[A-Za-z]{4,}/g) ?? [];
    // Names, the choices that stand in both languages, and what carriages are called.
    expect([...new Set(english)].filter((word) => !['Seamwarden', 'Units', 'Language', 'English', 'hall'].includes(word))).toEqual([]);
    await page.reload();
    await expect.poll(() => textAt(page.locator('[data-carriage="hall-a/c2"]'))).toContain('95.7 in');
  });

  for (const colorScheme of ['light', 'dark'] as const) {
    it(`axe-core finds nothing in ${colorScheme}`, async () => {
      tellAll(service);
      const { page } = await open({ colorScheme, reducedMotion: 'reduce' });
      await page.locator('[data-carriage="hall-a/c10"]').waitFor();
      expect(await runAxe(page)).toEqual([]);
      service.forget();
      await page.reload();
      await page.getByRole('heading', { name: 'No carriage has sent anything yet' }).waitFor();
      expect(await runAxe(page)).toEqual([]);
    });
  }

  it('moves nothing where the system asks for less motion', async () => {
    tellAll(service);
    const { page } = await open({ reducedMotion: 'reduce' });
    await page.locator('[data-carriage="hall-a/c10"]').waitFor();
    const moving = await page.evaluate(() => Array.from(document.querySelectorAll('*')).filter((own) => {
      const { animationName, transitionDuration } = getComputedStyle(own);
      return animationName !== 'none' || transitionDuration.split(',').some((part) => parseFloat(part) > 0);
    }).length);
    expect(moving).toBe(0);
  });
});
