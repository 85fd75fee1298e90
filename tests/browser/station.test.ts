import type { Locator } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { atVoltage, madeAlarm, madeCarriage } from './made-carriages.js';
import { hasBrowser } from './open-browser.js';
import type { PageOptions, WatchedPage } from './open-browser.js';
import { runAxe } from './run-axe.js';
import { useFakeService } from './use-fake-service.js';
import { unsentFigures } from '../unsent.js';

/** A screen of 24 inches is 531 mm wide: 25 mm on it are 25 / 531 · 1920 = 90.4 px. */
const screen = { viewport: { width: 1920, height: 1080 } };
const finger = (25 / 531) * 1920;

/** What is read at a place, with plain spaces. */
const textAt = async (place: Locator): Promise<string> => (await place.innerText()).replaceAll('\u00a0', ' ').trim();
const outside = (change: Partial<Carriage> = {}): Carriage => madeCarriage('c1', { ...atVoltage(35.2), alarms: [madeAlarm('c1')], ...change });
const twoArcs: Partial<Carriage> = {
  arcs: [
    { arc: 1, on: true, ...unsentFigures, current: 612, voltage: 31.2, wireFeedSpeed: null, currentVariation: null, voltageVariation: null },
    { arc: 2, on: true, ...unsentFigures, current: 498, voltage: 37.1, wireFeedSpeed: null, currentVariation: null, voltageVariation: null },
  ],
  windows: { arcs: [{ arc: 1, current: { min: 580, max: 680 }, voltage: { min: 30, max: 34 } }, { arc: 2, current: { min: 450, max: 550 }, voltage: { min: 32, max: 36 } }], travelSpeed: { min: 450, max: 560 } },
};

describe.skipIf(!hasBrowser)('the station', () => {
  const { service, newPage, openAt, closeAll } = useFakeService(screen);

  const open = async (options: PageOptions = {}): Promise<WatchedPage> => await openAt('station/hall-a/c1', options);

  it('says one sentence first, then each value with its range and where in it the value lies', async () => {
    service.tell(madeCarriage('c1'));
    const { page, complaints } = await open();
    await expect.poll(() => textAt(page.locator('.headline-first'))).toBe('Within limits');
    expect(await textAt(page.locator('.headline-more'))).toMatch(/^at 3570 of 6000 mm · 2430 mm left · done about \d\d:\d\d$/);
    const cell = (name: string): Locator => page.locator(`[data-quantity="${name}"]`);
    expect(await textAt(cell('current'))).toMatch(/Current\s+OK\s+612 A\s+580 to 680 A/);
    expect(await textAt(cell('voltage'))).toMatch(/Voltage\s+OK\s+31\.2 V/);
    expect(await textAt(cell('travelSpeed'))).toMatch(/Travel speed\s+OK\s+520 mm\/min/);
    expect(await textAt(cell('heatInput'))).toMatch(/Heat input\s+OK\s+2\.21 kJ\/mm/);
    // The bar shows the window and a third of its width on either side.
    const along = await cell('current').locator('.window-pointer').evaluate((own) => parseFloat(own.style.insetInlineStart));
    expect(along).toBeCloseTo(((612.4 - (580 - 100 / 3)) / (100 + 200 / 3)) * 100, 1);
    expect(complaints).toEqual([]);
  });

  it('moves nothing when something is wrong', async () => {
    service.tell(madeCarriage('c1'));
    const { page } = await open({ viewport: { width: 1280, height: 800 } });
    await page.locator('.quantity').first().waitFor();
    const boxes = async (): Promise<unknown> => await page.locator('.quantity, .headline, .alarm-panel, .quantity-digits').evaluateAll((all) => all.map((own) => own.getBoundingClientRect()).map(({ x, y, height }) => [Math.round(x), Math.round(y), Math.round(height)]));
    const before = await boxes();
    service.tell(outside({ drift: [{ arc: 1, quantity: 'current', limit: 680, leavesIn: 40.3, leavesAfter: 350.4 }] }));
    await page.getByRole('button', { name: 'Acknowledge' }).waitFor();
    expect(await boxes()).toEqual(before);
    await page.getByRole('button', { name: 'Acknowledge' }).click();
    await page.getByRole('button', { name: 'Add a note?' }).waitFor();
    expect(await boxes()).toEqual(before);
    expect(await page.evaluate(() => document.documentElement.scrollHeight)).toBeLessThanOrEqual(800);
  });

  it('waits with its colour until it is known whether an arc goes out', async () => {
    service.tell(madeCarriage('c1'));
    const { page } = await open();
    await page.locator('.quantity').first().waitFor();
    await page.evaluate(() => {
      const seen = window as unknown as { coloured: number };
      seen.coloured = 0;
      new MutationObserver(() => { seen.coloured += document.querySelectorAll('.quantity-out').length; }).observe(document.body, { subtree: true, childList: true, attributes: true });
    });
    // As an arc goes out: 0.3 s at no current before it is known to be out.
    const arcs = madeCarriage('c1').arcs.map((own) => ({ ...own, current: 4, voltage: 2 }));
    service.tell(madeCarriage('c1', { arcs }));
    await page.waitForTimeout(300);
    service.tell(madeCarriage('c1', { welding: false, arcs: arcs.map((own) => ({ ...own, on: false })) }));
    await page.getByText('What comes next?').waitFor();
    expect(await page.evaluate(() => (window as unknown as { coloured: number }).coloured)).toBe(0);
    // What stays out is coloured.
    service.tell(madeCarriage('c1', atVoltage(35.2)));
    await page.locator('.quantity-out').waitFor();
  });

  it('has a heat input from 20 mm on, and says so until then', async () => {
    service.tell(madeCarriage('c1', { localHeatInput: null, travelled: 12, seamPosition: 12 }));
    const { page } = await open();
    await expect.poll(() => textAt(page.locator('[data-quantity="heatInput"] .quantity-place'))).toBe('from 20 mm on');
  });

  it('warns of a drift, of wire that ends too soon and of preparation that is missing', async () => {
    service.tell(
      madeCarriage('c1', {
        drift: [{ arc: 1, quantity: 'voltage', limit: 34, leavesIn: 40.3, leavesAfter: 350.4 }],
        outlook: { lengthToGo: 2430, endsAt: null, wire: [{ arc: 1, lengthNeeded: 12, massNeeded: 1.2, massLeft: 0.9, endsShortBy: 607.5 }], absent: {} },
        preparation: { missing: [{ entry: 'fluxLot', arc: null, reason: 'notEntered', value: null, against: null, min: null, max: null }] },
      }),
    );
    const { page } = await open();
    await page.locator('.headline-warning').first().waitFor();
    expect(await textAt(page.locator('.headline-warning'))).toBe('Voltage will be out of limits in about 40 s (350 mm) · Wire runs out 608 mm before seam end');
    // The list of checks is within reach while the arc burns.
    await page.getByRole('button', { name: '1 check open' }).click();
    await page.getByRole('button', { name: /^Surface cleaned/ }).waitFor();
  });

  it('says of a seam that is welded towards its datum where it is from there, and of one with tabs no length that place and rest do not make up', async () => {
    const place = async (): Promise<string> => await textAt(page.locator('.headline-more'));
    const left = (lengthToGo: number): Partial<Carriage> => ({ outlook: { lengthToGo, endsAt: null, wire: [], absent: {} } });
    const job = { seam: 'DK-0417/L2', run: 3, procedure: 'SA-12', seamLength: 1200 };
    // Begun 40 mm beyond the far end, 1060 mm ago: 1240 − 1060 = 180 mm from the datum, and 40 + 1200 + 40 − 1060 = 220 mm to the end of the run-off tab.
    service.tell(madeCarriage('c1', { assignment: { ...job, direction: -1, startOffset: 1240, runOn: 40, runOff: 40 }, travelled: 1060, seamPosition: 180, ...left(220) }));
    const { page } = await open();
    await expect.poll(place).toBe('at 180 mm from the datum, moving towards it · 220 mm left');
    service.tell(madeCarriage('c1', { assignment: { ...job, startOffset: -40, runOn: 40, runOff: 40 }, travelled: 1060, seamPosition: 1020, ...left(220) }));
    await expect.poll(place).toBe('at 1020 mm from the datum · 220 mm left');
    service.tell(madeCarriage('c1', { assignment: job, travelled: 980, seamPosition: 980, ...left(220) }));
    await expect.poll(place).toBe('at 980 of 1200 mm · 220 mm left');
  });

  it('says that the clock of its carriage is wrong, with what is on its way', async () => {
    // Arrival less device time, s: 20 min ahead.
    service.tell(madeCarriage('c1', { clockOffset: -1200, drift: [{ arc: 1, quantity: 'voltage', limit: 34, leavesIn: 40.3, leavesAfter: 350.4 }] }));
    const { page } = await open();
    await expect.poll(() => textAt(page.locator('.headline-warning'))).toMatch(/^Voltage will be out of limits in about 40 s \(350 mm\) · Carriage clock is 20 min ahead\.?$/);
    service.tell(madeCarriage('c1', { clockOffset: -1200 }));
    await expect.poll(() => textAt(page.locator('.headline-warning'))).toMatch(/^Carriage clock is 20 min ahead\.?$/);
    // A message that takes a moment does not mean a wrong clock.
    service.tell(madeCarriage('c1', { clockOffset: 2 }));
    await expect.poll(() => textAt(page.locator('.headline-warning'))).toBe('');
  });

  it('strikes values through that are older than 2 s, with their age, and says that no data comes', async () => {
    service.tell(madeCarriage('c1', { lastSeen: new Date(Date.now() - 4_000).toISOString() }));
    const { page } = await open();
    await expect.poll(() => textAt(page.locator('.headline-first'))).toMatch(/No data for \d+(\.\d)? s/);
    expect(await page.locator('.quantity-digits s').count()).toBe(4);
    expect(await textAt(page.locator('[data-quantity="voltage"] .quantity-place'))).toMatch(/^\d+(\.\d)? s old$/);
    expect(await page.locator('.window-pointer').count()).toBe(0);
    // Nobody knows whether it went on, so only the last place is shown, and no time at which it will be done.
    expect(await textAt(page.locator('.headline-more'))).toBe('last known: at 3570 of 6000 mm');
  });

  it('says that it is not connected, and mends itself', async () => {
    service.tell(madeCarriage('c1'));
    const { page } = await open();
    await page.getByText('Connected', { exact: true }).waitFor();
    await service.stop();
    await expect.poll(() => textAt(page.locator('.headline-first')), { timeout: 15_000 }).toMatch(/Not connected – values are \d+(\.\d)? s old/);
    await expect.poll(() => page.locator('.quantity-digits s').count(), { timeout: 5_000 }).toBe(4);
    await service.start();
    await expect.poll(() => textAt(page.locator('.headline-first')), { timeout: 20_000 }).toMatch(/Within limits/);
    expect(await page.locator('.quantity-digits s').count()).toBe(0);
  });

  it('shows the job and its limits while no arc burns, whether its arcs were ever heard of or not', async () => {
    const arcs = madeCarriage('c1').arcs.map((own) => ({ ...own, on: false, current: 0, voltage: 0 }));
    expect(arcs).toHaveLength(1);
    service.tell(madeCarriage('c1', { welding: false, run: null, outlook: null, arcs: [] }));
    const { page } = await open();
    await expect.poll(() => textAt(page.locator('.headline'))).toMatch(/^\s*Arc off\s+next: DK-0417\/L2 · run 3\s*$/);
    const body = await textAt(page.locator('.between'));
    expect(body).toMatch(/Seam\s+DK-0417\/L2[\s\S]*Length\s+6000 mm[\s\S]*Limits\s+Current\s+580 to 680 A[\s\S]*Heat input\s+1\.80 to 3\.10 kJ\/mm/);
  });

  it('leaves limits readable where the value lies over them, on a phone too', async () => {
    // Limits 30 and 34 V: at 33.6 V the value lies where the digits of the upper one are.
    service.tell(madeCarriage('c1', atVoltage(33.6)));
    const { page } = await open({ viewport: { width: 390, height: 844 } });
    const bar = page.locator('[data-quantity^="voltage"] .window-track');
    await bar.locator('.window-pointer').waitFor();
    await bar.evaluate((own) => { own.scrollIntoView({ block: 'center' }); });
    await expect.poll(() => bar.evaluate((own) => {
      const pointer = own.querySelector('.window-pointer')?.getBoundingClientRect();
      const limit = own.querySelectorAll('.window-inside span')[1];
      const digits = limit?.getBoundingClientRect();
      if (pointer === undefined || digits === undefined) return null;
      const at = (pointer.left + pointer.right) / 2;
      return { over: at > digits.left && at < digits.right, read: document.elementFromPoint(at, (digits.top + digits.bottom) / 2) === limit };
    })).toEqual({ over: true, read: true });
  });

  it.each([['one arc', {}, 4], ['two arcs', twoArcs, 6]] as const)('has digits of 25 mm and targets of 25 mm on a screen of 24 inches, with %s and an alarm', async (_name, change, values) => {
    service.tell(outside(change));
    for (const [width, height, least] of [[1920, 1080, finger], [3840, 2160, 2 * finger]] as const) {
      const { page } = await open({ viewport: { width, height } });
      await expect.poll(() => page.locator('.quantity').count()).toBe(values);
      const heights = await page.locator('.quantity-digits').evaluateAll((all) => all.map((own) => {
        const context = document.createElement('canvas').getContext('2d');
        const { fontWeight, fontSize, fontFamily } = getComputedStyle(own);
        if (context === null) return 0;
        // Browsers measure in whole px: ten times as large, that is a tenth of one.
        context.font = `${fontWeight} ${parseFloat(fontSize) * 10}px ${fontFamily}`;
        return context.measureText('1').actualBoundingBoxAscent / 10;
      }));
      expect(Math.min(...heights)).toBeGreaterThanOrEqual(least - 0.5);
      const fits = await page.evaluate(() => ({ high: document.documentElement.scrollHeight <= window.innerHeight, wide: document.documentElement.scrollWidth <= window.innerWidth }));
      expect(fits).toEqual({ high: true, wide: true });
      await page.getByRole('button', { name: 'Menu' }).click();
      const small = await page.locator('button, a[href]:not(.skip), select, input').evaluateAll((all, size) => all.map((own) => ({ text: own.textContent, box: own.getBoundingClientRect() })).filter(({ box }) => box.width < size || box.height < size).map(({ text, box }) => `${text} ${box.width} × ${box.height}`), least - 0.5);
      expect(small).toEqual([]);
      await closeAll();
    }
  });

  it('keeps everything on a tablet of 10 inches without scrolling, as large as fits', async () => {
    service.tell(outside());
    const { page } = await open({ viewport: { width: 1280, height: 800 } });
    await expect.poll(() => page.locator('.quantity').count()).toBe(4);
    expect(await page.evaluate(() => document.documentElement.scrollHeight)).toBeLessThanOrEqual(800);
    expect(await page.locator('.quantity-digits').first().evaluate((own) => parseFloat(getComputedStyle(own).fontSize))).toBeGreaterThan(100);
  });

  it('speaks Chinese and US units by press', async () => {
    service.tell(outside());
    const { page } = await open();
    await page.getByRole('button', { name: 'Menu' }).click();
    await page.getByRole('button', { name: 'US (in, kJ/in, °F)' }).click();
    await page.getByRole('button', { name: 'Close' }).click();
    // 520 mm/min / 25.4 = 20.5 in/min; 2.21 kJ/mm · 25.4 = 56.1 kJ/in.
    await expect.poll(() => textAt(page.locator('[data-quantity="travelSpeed"]'))).toMatch(/20\.5 in\/min/);
    expect(await textAt(page.locator('[data-quantity="heatInput"]'))).toMatch(/56\.1 kJ\/in/);
    await page.getByRole('button', { name: 'Menu' }).click();
    await page.getByRole('button', { name: '中文' }).click();
    await expect.poll(() => textAt(page.locator('.headline-first'))).toMatch(/^\s*超出限值：电压偏高 1\.2 V$/);
    await page.getByRole('button', { name: '关闭' }).click();
    const english = (await page.locator('body').innerText()).match(/[A-Za-z]{4,}/g) ?? [];
    // The name of the program, and what the procedure was given as its response.
    expect([...new Set(english)].filter((word) => !['Seamwarden', 'check', 'contact', 'tube'].includes(word))).toEqual([]);
  });

  it('offers the known carriages if the address names none of them', async () => {
    service.tell(madeCarriage('c1'), madeCarriage('c2'));
    const { page } = await newPage();
    await page.goto(`${service.http}/#/station/hall-a/c9`);
    await page.getByText('There is no carriage c9.').waitFor();
    await page.getByRole('link', { name: /^c2 Within limits DK-0417/ }).click();
    await expect.poll(() => page.locator('h1').innerText()).toContain('c2');
  });

  it('axe-core finds nothing, in any state', async () => {
    service.tell(outside(twoArcs), madeCarriage('c2', { lastSeen: new Date(Date.now() - 9_000).toISOString() }), madeCarriage('c3', { welding: false, run: null, outlook: null }));
    const { page } = await open();
    await page.getByRole('button', { name: 'Menu' }).click();
    expect(await runAxe(page)).toEqual([]);
    await page.getByRole('button', { name: 'Shelve …' }).click();
    expect(await runAxe(page)).toEqual([]);
    for (const name of ['c1', 'c2', 'c3', 'c9']) {
      await page.goto(`${service.http}/#/station/hall-a/${name}`);
      await page.locator('h1').waitFor();
      expect(await runAxe(page), name).toEqual([]);
    }
  });
});
