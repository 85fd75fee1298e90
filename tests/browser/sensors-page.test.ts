import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { closePages, hasBrowser, openBrowser, openPage } from './open-browser.js';
import { runAxe } from './run-axe.js';
import { startService } from './start-service.js';
import type { ServiceUnderTest } from './start-service.js';

/** More presses than the page has controls. */
const mostPresses = 60;

describe.skipIf(!hasBrowser)('the sensors of a carriage', () => {
  let service: ServiceUnderTest;
  let browser: Browser;
  beforeAll(async () => {
    service = await startService();
    browser = await openBrowser();
  });
  afterEach(async () => { await closePages(browser); });
  afterAll(async () => {
    await browser.close();
    await service.remove();
  });

  const open = async (carriage: string): Promise<{ readonly page: Page; readonly complaints: readonly string[] }> => {
    // The order in which a date is typed is that of the locale.
    const { page, complaints } = await openPage(browser, { locale: 'en-US', choices: { language: 'en' } });
    await page.goto(`${service.http}/#/sensors/hall-a/${carriage}`);
    await page.getByText('Nothing has been declared yet.').waitFor();
    return { page, complaints };
  };
  /** Presses Tab until the control with that name in that section has the focus; each press leads on, so none is a trap. */
  const tabTo = async (page: Page, name: string, section?: string, key = 'Tab'): Promise<void> => {
    const wanted = (section === undefined ? page : page.getByRole('group', { name: section })).locator('button, input, select').filter({ visible: true });
    for (let press = 0; press < mostPresses; press += 1) {
      await page.keyboard.press(key);
      const isThere = await wanted.evaluateAll((all, own) => all.some((one) => one === document.activeElement && [one.textContent, ...Array.from(document.querySelectorAll(`label[for='${one.id}']`), (label) => label.textContent)].includes(own)), name);
      if (isThere) return;
    }
    throw new Error(`no press of Tab leads to ${name}`);
  };
  const declared = async (carriage: string): Promise<unknown> => {
    const answer = await fetch(`${service.http}/api/carriages/hall-a/${carriage}/sensors`);
    return answer.status === 404 ? null : await answer.json();
  };

  it('are declared by keyboard alone, and are there when the page is loaded anew', async () => {
    const { page, complaints } = await open('c1');
    const type = async (name: string, keys: string, section?: string): Promise<void> => {
      await tabTo(page, name, section);
      await page.keyboard.type(keys);
    };
    await type('Travel comes from', 'set');
    await type('Travel calibration due', '11302027');
    await type('Plate temperature is taken', 'ahead');
    await type('Current sensor', 'sh', 'Arc 1');
    await type('Voltage is picked up at', 'the p', 'Arc 1');
    await type('Cable resistance, out and back, mΩ', '9.4', 'Arc 1');
    await type('Serial number', 'A-17', 'Arc 1');
    await type('Calibrated on', '03012027', 'Arc 1');
    await type('Calibration due', '03012028', 'Arc 1');
    await tabTo(page, 'Add an arc');
    await page.keyboard.press('Enter');
    await tabTo(page, 'Current is sent', 'Arc 2', 'Shift+Tab');
    await page.keyboard.type('without');
    await type('Your name', 'Kim');
    await page.keyboard.press('Enter');
    await page.getByText('Saved. Revision 1, declared by Kim').waitFor();
    // The focus is where the page says so, not lost with the form that began anew.
    expect(await page.evaluate(() => document.activeElement?.textContent)).toContain('Saved.');
    const stored = {
      travelSource: 'setPoint', travelCalibrationDue: '2027-11-30', plateTemperaturePlace: 'ahead', by: 'Kim', revision: 1,
      arcs: [{ arc: 1, currentSensor: 'shunt', voltagePickup: 'source', cableResistance: 9.4, serial: 'A-17', calibratedAt: '2027-03-01', calibrationDue: '2028-03-01' }, { arc: 2, signedCurrent: false }],
    };
    expect(await declared('c1')).toEqual({ ...stored, at: expect.any(String) as string });
    await page.reload();
    await page.getByText('Revision 1, declared by Kim').waitFor();
    const first = page.getByRole('group', { name: 'Arc 1' });
    expect(await Promise.all([page.getByLabel('Travel comes from').inputValue(), page.getByLabel('Travel calibration due').inputValue(), page.getByLabel('Plate temperature is taken').inputValue()])).toEqual(['setPoint', '2027-11-30', 'ahead']);
    expect(await Promise.all(['Current sensor', 'Current is sent', 'Voltage is picked up at', 'Cable resistance, out and back, mΩ', 'Serial number', 'Calibrated on', 'Calibration due'].map((name) => first.getByLabel(name).inputValue())))
      .toEqual(['shunt', '', 'source', '9.4', 'A-17', '2027-03-01', '2028-03-01']);
    expect(await page.getByRole('group', { name: 'Arc 2' }).getByLabel('Current is sent').inputValue()).toBe('no');
    // 9.4 mΩ at 600 A: 5.64 V.
    await first.getByText('at 600 A it is 5.64 V lower').waitFor();
    expect(complaints).toEqual([]);
  });

  it('keep all that was typed beside the message about a wrong value, which leads to its field', async () => {
    const { page } = await open('c2');
    const first = page.getByRole('group', { name: 'Arc 1' });
    const resistance = first.getByLabel('Cable resistance, out and back');
    await page.getByLabel('Travel comes from').selectOption('encoder');
    await first.getByLabel('Voltage is picked up at').selectOption('source');
    await first.getByLabel('Serial number').fill('B-2');
    await page.getByLabel('Your name').fill('Kim');
    for (const [typed, message] of [['5000', 'Must be between 0 and 1000.'], ['nine', 'Enter a number, e.g. 30.5'], ['1,234', 'Ambiguous comma']] as const) {
      await resistance.fill(typed);
      await page.getByRole('button', { name: 'Save', exact: true }).click();
      await expect.poll(() => resistance.evaluate((own) => own === document.activeElement)).toBe(true);
      // The message is beside the field, and read out with it.
      const beside = page.locator(`[id="${(await resistance.getAttribute('aria-describedby')) ?? ''}"]`);
      expect(await beside.innerText()).toContain(message);
      const [field, told] = [await resistance.boundingBox(), await beside.boundingBox()];
      expect((told?.y ?? 0) - (field?.y ?? 0) - (field?.height ?? 0)).toBeLessThan(30);
      expect(await Promise.all([resistance.inputValue(), first.getByLabel('Serial number').inputValue(), page.getByLabel('Travel comes from').inputValue(), page.getByLabel('Your name').inputValue()])).toEqual([typed, 'B-2', 'encoder', 'Kim']);
    }
    expect(await runAxe(page)).toEqual([]);
    expect(await declared('c2')).toBeNull();
    await resistance.fill('7.5');
    await page.keyboard.press('Enter');
    await page.getByText('Saved. Revision 1').waitFor();
    expect(await declared('c2')).toMatchObject({ travelSource: 'encoder', arcs: [{ arc: 1, voltagePickup: 'source', cableResistance: 7.5, serial: 'B-2' }], by: 'Kim' });
  });

  it('are not saved without a date that was typed only in part, and with no field in the way that is no longer shown', async () => {
    const { page } = await open('c3');
    const first = page.getByRole('group', { name: 'Arc 1' });
    await page.getByLabel('Your name').fill('Kim');
    await first.getByLabel('Calibration due').focus();
    await page.keyboard.type('0301');
    await page.keyboard.press('Enter');
    await first.getByText('Enter all of the date, or clear it.').waitFor();
    expect(await declared('c3')).toBeNull();
    await first.getByLabel('Calibration due').fill('2028-03-01');
    await expect.poll(() => first.getByText('Enter all of the date').count()).toBe(0);
    await first.getByLabel('Voltage is picked up at').selectOption('source');
    await first.getByLabel('Cable resistance, out and back').fill('nine');
    await first.getByLabel('Voltage is picked up at').selectOption('contactTube');
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    await page.getByText('Saved. Revision 1').waitFor();
    const arc = ((await declared('c3')) as { readonly arcs: readonly object[] }).arcs[0];
    expect(arc).toEqual({ arc: 1, voltagePickup: 'contactTube', calibrationDue: '2028-03-01' });
  });

  it('keep the focus where arcs are added and removed, though the button that was pressed is gone', async () => {
    const { page } = await open('c4');
    const add = page.getByRole('button', { name: 'Add an arc' });
    for (let arc = 2; arc <= 5; arc += 1) await add.press('Enter');
    expect(await add.evaluate((own) => own === document.activeElement)).toBe(true);
    // A carriage has six arcs at most: the last of them takes the button along.
    await add.press('Enter');
    await expect.poll(() => page.getByRole('group', { name: 'Arc 6' }).getByLabel('Current sensor').evaluate((own) => own === document.activeElement)).toBe(true);
    expect(await add.count()).toBe(0);
    for (const arc of [6, 2, 3, 4, 5]) {
      await page.getByRole('button', { name: `Remove arc ${arc}` }).press('Enter');
      await expect.poll(() => add.evaluate((own) => own === document.activeElement)).toBe(true);
    }
    expect(await page.getByRole('button', { name: 'Remove arc 1' }).count()).toBe(0);
  });

  it('say beside the date that a calibration is past due', async () => {
    const { page } = await open('c5');
    const due = page.getByRole('group', { name: 'Arc 1' }).getByLabel('Calibration due');
    const past = page.getByText('Past due: runs struck now are marked.');
    // Two days before now is past due, and two days after is not, in any zone that a plant can be in.
    const day = (later: number): string => new Date(Date.now() + later * 86_400_000).toISOString().slice(0, 10);
    await due.fill(day(2));
    expect(await past.count()).toBe(0);
    await due.fill(day(-2));
    await past.waitFor();
    expect(await runAxe(page)).toEqual([]);
    await page.getByLabel('Travel calibration due').fill(day(-2));
    await expect.poll(() => past.count()).toBe(2);
    await page.getByRole('group', { name: 'Arc 1' }).getByLabel('Calibrated on').fill(day(-2));
    expect(await past.count()).toBe(2);
  });
});
