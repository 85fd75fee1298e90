import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { Carriage } from '../../shared/api-types/carriage.js';
import type { FakeService } from './fake-service.js';
import { startFakeService } from './fake-service.js';
import { atVoltage, madeAlarm, madeCarriage } from './made-carriages.js';
import { hasBrowser, openBrowser, openPage } from './open-browser.js';
import { runAxe } from './run-axe.js';

/** A screen of 24 inches is 531 mm wide: 25 mm on it are 25 / 531 · 1920 = 90.4 px. */
const screen = { viewport: { width: 1920, height: 1080 } };
const finger = (25 / 531) * 1920;

/** What is read at a place, with plain spaces. */
const textAt = async (place: Locator): Promise<string> => (await place.innerText()).replaceAll('\u00a0', ' ').trim();
const outside = (change: Partial<Carriage> = {}): Carriage => madeCarriage('c1', { ...atVoltage(35.2), alarms: [madeAlarm('c1')], ...change });
const twoArcs: Partial<Carriage> = {
  arcs: [
    { arc: 1, on: true, current: 612, voltage: 31.2, wireFeedSpeed: null, currentVariation: null, voltageVariation: null },
    { arc: 2, on: true, current: 498, voltage: 37.1, wireFeedSpeed: null, currentVariation: null, voltageVariation: null },
  ],
  windows: { arcs: [{ arc: 1, current: { min: 580, max: 680 }, voltage: { min: 30, max: 34 } }, { arc: 2, current: { min: 450, max: 550 }, voltage: { min: 32, max: 36 } }], travelSpeed: { min: 450, max: 560 } },
};

describe.skipIf(!hasBrowser)('the station', () => {
  let service: FakeService;
  let browser: Browser;
  beforeAll(async () => {
    service = await startFakeService();
    browser = await openBrowser();
  });
  beforeEach(() => {
    service.forget();
    service.refuseWrites(null);
  });
  afterEach(async () => {
    await Promise.all(browser.contexts().map(async (context) => { await context.close(); }));
  });
  afterAll(async () => {
    await browser.close();
    await service.stop();
  });

  const open = async (options = {}): Promise<{ page: Page; complaints: string[] }> => {
    const opened = await openPage(browser, { ...screen, ...options });
    await opened.page.goto(`${service.http}/#/station/hall-a/c1`);
    return opened;
  };
  const writesOf = (act: string): readonly Readonly<Record<string, unknown>>[] => service.writes.filter(({ path }) => path === `/api/alarms/alarm-c1/${act}`).map(({ body }) => body);

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

  it('says what stands, since where, and what the procedure asks for', async () => {
    service.tell(outside());
    const { page } = await open();
    await expect.poll(() => textAt(page.locator('.headline-first'))).toBe('Out of limits: voltage 1.2 V over');
    const panel = page.getByRole('region', { name: 'Alarms' });
    expect(await textAt(panel)).toMatch(/Voltage of arc 1 is above 34\.0 V, max 35\.2 V, from 1284\.5 mm \(seam position\)\./);
    expect(await textAt(panel)).toContain('Action: check the contact tube');
    await expect.poll(() => textAt(page.locator('[data-quantity="voltage"]'))).toMatch(/1\.2 V over/);
    expect(await page.locator('[data-quantity="voltage"] .quantity-place .mark').count()).toBe(1);
  });

  it('acknowledges with one press in the name of whoever is here, and lets the note follow', async () => {
    service.tell(outside());
    const { page } = await open();
    await page.getByRole('button', { name: 'Menu' }).click();
    await page.getByRole('button', { name: 'Who is here?' }).click();
    await page.getByLabel('New name').fill('Kim');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Acknowledge' }).click();
    await page.getByRole('button', { name: 'Add a note?' }).click();
    expect(writesOf('acknowledge')).toEqual([{ by: 'Kim' }]);
    await page.getByRole('button', { name: 'Contact tube changed' }).click();
    await expect.poll(() => textAt(page.getByRole('region', { name: 'Alarms' }))).toMatch(/Acknowledged by Kim at \d\d:\d\d\. Contact tube changed/);
    expect(writesOf('acknowledge').at(-1)).toEqual({ by: 'Kim', note: 'Contact tube changed' });
    // It is still outside: acknowledging mends nothing.
    expect(await textAt(page.locator('.headline-first'))).toMatch(/Out of limits/);
    // The name outlasts the page, not the shift.
    await page.reload();
    await page.getByText('Kim', { exact: true }).waitFor();
    await page.clock.install({ time: Date.now() + 11 * 3600_000 });
    await page.reload();
    await page.getByText('nobody signed in').waitFor();
  });

  it('does all of it by keyboard alone, signed by the station where nobody has said to be here', async () => {
    const before = writesOf('acknowledge').length;
    service.tell(outside());
    const { page } = await open();
    await page.getByRole('button', { name: 'Acknowledge' }).waitFor();
    for (let step = 0; step < 6 && !(await page.getByRole('button', { name: 'Acknowledge' }).evaluate((own) => own === document.activeElement)); step += 1) await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Add a note?' }).waitFor();
    // The operator that the job names has not been chosen.
    expect(writesOf('acknowledge').slice(before)).toEqual([{ by: 'station c1' }]);
    await page.getByRole('button', { name: 'Shelve …' }).focus();
    await page.keyboard.press('Enter');
    // What is being shelved stays readable, in the sheet and in the panel.
    expect(await textAt(page.getByRole('region', { name: 'Shelve for how long?' }))).toContain('Voltage of arc 1 is above 34.0 V');
    expect(await textAt(page.getByRole('region', { name: 'Alarms' }))).toContain('Voltage of arc 1 is above 34.0 V');
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('30 min');
    const pressed = Date.now();
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'For 30 min. Why?' }).waitFor();
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Repair under way');
    await page.keyboard.press('Enter');
    await page.getByText(/Shelved until \d\d:\d\d: Repair under way/).waitFor();
    const shelving = writesOf('shelve').at(-1);
    expect(shelving).toMatchObject({ by: 'station c1', reason: 'Repair under way' });
    expect(Math.abs(Number(shelving?.['until']) - pressed - 30 * 60_000)).toBeLessThan(5_000);
    // Shelved is quiet, not in range.
    expect(await textAt(page.locator('.headline-first'))).toMatch(/Out of limits/);
  });

  it('gives the panel to a new alarm, whatever somebody is doing with another', async () => {
    for (const step of ['Add a note?', 'Shelve …']) {
      service.forget();
      service.tell(outside());
      const { page } = await open();
      await page.getByRole('button', { name: 'Acknowledge' }).click();
      await page.getByRole('button', { name: step }).click();
      await page.locator('.sheet').waitFor();
      service.tellAlarm(madeAlarm('c1', { id: 'new', quantity: 'current', limit: 580, worst: 480, response: null }));
      const panel = page.getByRole('region', { name: 'Alarms' });
      await expect.poll(() => textAt(panel)).toMatch(/Current of arc 1 is below 580 A, min 480 A/);
      // It has an action though the procedure gives none, its own Acknowledge, and nothing lies over the numbers.
      expect(await textAt(panel)).toContain('Action: Turn the current up');
      await page.getByRole('button', { name: 'Acknowledge' }).waitFor();
      await page.locator('.quantity').first().waitFor();
      expect(await page.locator('.sheet').count()).toBe(0);
      await page.context().close();
    }
  });

  it('asks for a note for ten seconds, then no more, and it can be added later', async () => {
    service.tell(outside());
    const { page } = await open();
    await page.getByRole('button', { name: 'Acknowledge' }).click();
    await page.getByRole('button', { name: 'Add a note?' }).waitFor();
    await page.getByRole('button', { name: 'Add a note?' }).waitFor({ state: 'detached', timeout: 14_000 });
    await page.getByRole('button', { name: 'Add a note …' }).click();
    await page.getByRole('button', { name: 'Cause not found' }).waitFor();
  });

  it('never shows an alarm of another run as if it were now', async () => {
    const over = new Date(Date.now() - 600_000).toISOString();
    const old = madeAlarm('c1', { id: 'old', run: 'run-before', seam: 'DK-0417/L1', runNumber: 2, state: 'returned', returnedAt: over, quantity: 'current', limit: 549, worst: 500, response: 'look at the wire feed' });
    service.tell(outside({ alarms: [madeAlarm('c1'), old], alarmCounts: { active: 1, unacknowledged: 1, cleared: 17, shelved: 0, suppressed: 0, clearedOfRun: 0 } }));
    const { page } = await open();
    const panel = page.getByRole('region', { name: 'Alarms', exact: true });
    await expect.poll(() => textAt(panel)).toMatch(/Voltage of arc 1 is above/);
    expect(await textAt(panel)).toContain('17 cleared alarms from earlier runs');
    // Without an active one the panel has none, and nothing of the old one.
    service.tell(madeCarriage('c1', { alarms: [old], alarmCounts: { active: 0, unacknowledged: 0, cleared: 17, shelved: 0, suppressed: 0, clearedOfRun: 0 } }));
    await expect.poll(() => textAt(panel)).toContain('No active alarms.');
    expect(await textAt(page.locator('body'))).not.toContain('wire feed');
    await page.getByRole('button', { name: '17 cleared' }).click();
    const list = page.getByRole('region', { name: 'DK-0417/L1 · run 2' });
    expect(await textAt(list)).toMatch(/earlier run[^]*\d\d:\d\d:\d\d · Current of arc 1 was below 549 A[^]*Mark this stretch on DK-0417\/L1\./);
    expect(await textAt(page.locator('body'))).not.toContain('wire feed');
    await list.getByRole('button', { name: 'Acknowledge', exact: true }).click();
    await expect.poll(() => service.writes.at(-1)).toEqual({ path: '/api/alarms/acknowledge', body: { run: 'run-before', cleared: true, by: 'station c1' } });
  });

  it('says in headline and panel the same thing, and of what follows from another alarm that it does', async () => {
    const cause = madeAlarm('c1', { id: 'cause', state: 'returned', returnedAt: new Date().toISOString() });
    const follows = madeAlarm('c1', { id: 'follows', quantity: 'heatInput', arc: null, limit: 3.1, worst: 3.54, state: 'suppressed', response: null });
    service.tell(madeCarriage('c1', { localHeatInput: 3.54, alarms: [follows, cause], alarmCounts: { active: 0, unacknowledged: 0, cleared: 1, shelved: 0, suppressed: 1, clearedOfRun: 1 } }));
    const { page } = await open();
    await expect.poll(() => textAt(page.locator('.headline-first'))).toMatch(/Out of limits: heat input 0\.440? kJ\/mm over/);
    const panel = await textAt(page.getByRole('region', { name: 'Alarms', exact: true }));
    expect(panel).toMatch(/Heat input is above 3\.100 kJ\/mm/);
    expect(panel).toContain('Follows from the voltage alarm; no alarm of its own.');
    expect(panel).toContain('1 cleared alarm in this run');
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

  it('says why a press was not taken', async () => {
    service.tell(outside());
    service.refuseWrites('Storage takes no writes: the disk is full.');
    const { page } = await open();
    await page.getByRole('button', { name: 'Acknowledge' }).click();
    await expect.poll(() => page.getByRole('alert').innerText()).toBe('Not saved: Storage takes no writes: the disk is full. Try again.');
    service.refuseWrites(null);
    await page.getByRole('button', { name: 'Acknowledge' }).click();
    await page.getByRole('button', { name: 'Add a note?' }).waitFor();
    expect(await page.getByRole('alert').innerText()).toBe('');
  });

  it('is silent until a press allows the tone, which stops with the acknowledgement', async () => {
    service.tell(outside());
    const { page } = await openPage(browser, screen);
    await page.addInitScript(() => {
      const counted = window as unknown as { pitches: number[] };
      counted.pitches = [];
      const contexts = AudioContext.prototype as unknown as { createOscillator: (this: AudioContext) => OscillatorNode };
      const create = contexts.createOscillator;
      contexts.createOscillator = function (this: AudioContext) {
        const own = create.call(this);
        const start = own.start.bind(own);
        own.start = (at) => {
          counted.pitches.push(own.frequency.value);
          start(at);
        };
        return own;
      };
    });
    await page.goto(`${service.http}/#/station/hall-a/c1`);
    const pitches = async (): Promise<number[]> => await page.evaluate(() => (window as unknown as { pitches: number[] }).pitches);
    await page.getByRole('button', { name: 'Acknowledge' }).waitFor();
    await page.waitForTimeout(2_500);
    expect(await pitches()).toEqual([]);
    await page.getByRole('button', { name: 'Menu' }).click();
    await page.getByRole('button', { name: 'Sound off – tap to turn on' }).click();
    await page.getByRole('button', { name: 'Sound on – tap to mute' }).waitFor();
    // Three pulses of 1,000 Hz for high priority, every 2 s.
    await expect.poll(async () => (await pitches()).length, { timeout: 10_000 }).toBeGreaterThanOrEqual(6);
    expect(new Set(await pitches())).toEqual(new Set([1000]));
    await page.getByRole('button', { name: 'Acknowledge' }).click();
    await page.getByRole('button', { name: 'Add a note?' }).waitFor();
    const then = (await pitches()).length;
    await page.waitForTimeout(2_500);
    expect((await pitches()).length).toBe(then);
  });

  it('shows several alarms one at a time, the most urgent first', async () => {
    service.tell(outside({ alarms: [madeAlarm('c1', { id: 'low', priority: 'low', quantity: 'travelSpeed', arc: null, limit: 450, worst: 430, response: null }), madeAlarm('c1')] }));
    const { page } = await open();
    const panel = page.getByRole('region', { name: 'Alarms' });
    await expect.poll(() => textAt(panel)).toMatch(/Voltage of arc 1 is above/);
    await page.getByRole('button', { name: 'Next alarm (1 of 2)' }).click();
    await expect.poll(() => textAt(panel)).toMatch(/Travel speed is below 450 mm\/min, min 430 mm\/min/);
    expect(await textAt(panel)).toContain('Action: Speed the carriage up');
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

  it('strikes values through that are older than 2 s, with their age, and says that no data comes', async () => {
    service.tell(madeCarriage('c1', { lastSeen: new Date(Date.now() - 4_000).toISOString() }));
    const { page } = await open();
    await expect.poll(() => textAt(page.locator('.headline-first'))).toMatch(/No data for \d+(\.\d)? s/);
    expect(await page.locator('.quantity-digits s').count()).toBe(4);
    expect(await textAt(page.locator('[data-quantity="voltage"] .quantity-place'))).toMatch(/^\d+(\.\d)? s old$/);
    expect(await page.locator('.window-pointer').count()).toBe(0);
    // Where it would have been by now, and when done, is as old.
    expect(await page.locator('.headline-more s').count()).toBe(1);
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

  it.each([['one arc', {}, 4], ['two arcs', twoArcs, 6]] as const)('has digits of 25 mm and targets of 25 mm on a screen of 24 inches, with %s and an alarm', async (_name, change, values) => {
    service.tell(outside(change));
    for (const [width, height, least] of [[1920, 1080, finger], [3840, 2160, 2 * finger]] as const) {
      const { page } = await open({ viewport: { width, height } });
      await expect.poll(() => page.locator('.quantity').count()).toBe(values);
      const heights = await page.locator('.quantity-digits').evaluateAll((all) => all.map((own) => {
        const context = document.createElement('canvas').getContext('2d');
        const { fontWeight, fontSize, fontFamily } = getComputedStyle(own);
        if (context === null) return 0;
        context.font = `${fontWeight} ${fontSize} ${fontFamily}`;
        return context.measureText('1').actualBoundingBoxAscent;
      }));
      expect(Math.min(...heights)).toBeGreaterThanOrEqual(least - 0.5);
      const fits = await page.evaluate(() => ({ high: document.documentElement.scrollHeight <= window.innerHeight, wide: document.documentElement.scrollWidth <= window.innerWidth }));
      expect(fits).toEqual({ high: true, wide: true });
      await page.getByRole('button', { name: 'Menu' }).click();
      const small = await page.locator('button, a[href]:not(.skip), select, input').evaluateAll((all, size) => all.map((own) => ({ text: own.textContent, box: own.getBoundingClientRect() })).filter(({ box }) => box.width < size || box.height < size).map(({ text, box }) => `${text} ${box.width} × ${box.height}`), least - 0.5);
      expect(small).toEqual([]);
      await page.context().close();
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
    await expect.poll(() => textAt(page.locator('.headline-first'))).toMatch(/^\s*超出限值: ?电压偏高 1\.2 V$/);
    await page.getByRole('button', { name: '关闭' }).click();
    const english = (await page.locator('body').innerText()).match(/[A-Za-z]{4,}/g) ?? [];
    // The name of the program, and what the procedure was given as its response.
    expect([...new Set(english)].filter((word) => !['Seamwarden', 'check', 'contact', 'tube'].includes(word))).toEqual([]);
  });

  it('offers the carriages that there are where the address names none of them', async () => {
    service.tell(madeCarriage('c1'), madeCarriage('c2'));
    const { page } = await openPage(browser, screen);
    await page.goto(`${service.http}/#/station/hall-a/c9`);
    await page.getByText('There is no carriage c9.').waitFor();
    await page.getByRole('link', { name: /^c2 Within limits DK-0417/ }).click();
    await expect.poll(() => page.locator('h1').innerText()).toContain('c2');
  });

  for (const colorScheme of ['light', 'dark'] as const) {
    it(`axe-core finds nothing in ${colorScheme}, in any state`, async () => {
      service.tell(outside(twoArcs), madeCarriage('c2', { lastSeen: new Date(Date.now() - 9_000).toISOString() }), madeCarriage('c3', { welding: false, run: null, outlook: null }));
      const { page } = await open({ colorScheme });
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
  }
});
