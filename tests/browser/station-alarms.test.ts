import type { Locator } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { atVoltage, madeAlarm, madeCarriage } from './made-carriages.js';
import { hasBrowser } from './open-browser.js';
import type { PageOptions, WatchedPage } from './open-browser.js';
import { useFakeService } from './use-fake-service.js';

const screen = { viewport: { width: 1920, height: 1080 } };

/** What is read at a place, with plain spaces. */
const textAt = async (place: Locator): Promise<string> => (await place.innerText()).replaceAll('\u00a0', ' ').trim();
const outside = (change: Partial<Carriage> = {}): Carriage => madeCarriage('c1', { ...atVoltage(35.2), alarms: [madeAlarm('c1')], ...change });

describe.skipIf(!hasBrowser)('alarms at the station', () => {
  const { service, newPage, openAt, closeAll } = useFakeService(screen);

  const open = async (options: PageOptions = {}): Promise<WatchedPage> => await openAt('station/hall-a/c1', options);
  const writesOf = (act: string): readonly Readonly<Record<string, unknown>>[] => service.writes.filter(({ path }) => path === `/api/alarms/alarm-c1/${act}`).map(({ body }) => body);

  it('says what is active, from where on, and what the procedure asks for', async () => {
    service.tell(outside());
    const { page } = await open();
    await expect.poll(() => textAt(page.locator('.headline-first'))).toBe('Out of limits: voltage 1.2 V over');
    const panel = page.getByRole('region', { name: 'Alarms' });
    expect(await textAt(panel)).toMatch(/Voltage of arc 1 is above 34\.0 V, max 35\.2 V, from 1284\.5 mm \(seam position\)\./);
    expect(await textAt(panel)).toContain('Action: check the contact tube');
    await expect.poll(() => textAt(page.locator('[data-quantity="voltage"]'))).toMatch(/1\.2 V over/);
    expect(await page.locator('[data-quantity="voltage"] .quantity-place .mark').count()).toBe(1);
  });

  it('acknowledges with one press, signed by the person who is here, and lets the note follow', async () => {
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

  it('does all of it by keyboard alone, signed by the station if nobody has signed in', async () => {
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
    expect(await page.evaluate(() => document.activeElement?.textContent.replaceAll('\u00a0', ' '))).toBe('30 min');
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
      await closeAll();
    }
  });

  it('offers to add a note for ten seconds, and the note can still be added later', async () => {
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
    // Without an active alarm the panel shows none, and nothing of the old one.
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

  it('says which alarm is shelved and until when, and unshelves it by a press', async () => {
    const until = new Date(Date.now() + 1800_000).toISOString();
    service.tell(outside({ alarms: [madeAlarm('c1', { state: 'shelved', shelvedUntil: until, shelvedBy: 'Kim', shelvedReason: 'Repair under way' })] }));
    const { page } = await open();
    await page.getByRole('button', { name: '1 shelved' }).click();
    expect(await textAt(page.locator('.cleared-run'))).toMatch(/voltage[^]*until \d\d:\d\d/i);
    const before = writesOf('unshelve').length;
    await page.getByRole('button', { name: 'Unshelve' }).click();
    await expect.poll(() => writesOf('unshelve').slice(before)).toEqual([{ by: 'station c1' }]);
    // It rings again: it can be acknowledged and shelved as before.
    await page.getByRole('button', { name: 'Acknowledge', exact: true }).waitFor();
    await expect.poll(() => page.getByRole('button', { name: '1 shelved' }).count()).toBe(0);
  });

  it('says why a press was not taken', async () => {
    service.tell(outside());
    service.refuseWrites('Data cannot be stored: the disk is full.');
    const { page } = await open();
    await page.getByRole('button', { name: 'Acknowledge' }).click();
    await expect.poll(() => page.getByRole('alert').innerText()).toBe('Not saved: Data cannot be stored: the disk is full. Try again.');
    service.refuseWrites(null);
    await page.getByRole('button', { name: 'Acknowledge' }).click();
    await page.getByRole('button', { name: 'Add a note?' }).waitFor();
    expect(await page.getByRole('alert').innerText()).toBe('');
  });

  it('is silent until a press allows the tone, which stops with the acknowledgement', async () => {
    service.tell(outside());
    const { page } = await newPage();
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
});
