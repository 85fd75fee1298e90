import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { madeCarriage } from './made-carriages.js';
import { hasBrowser } from './open-browser.js';
import type { WatchedPage } from './open-browser.js';
import { runAxe } from './run-axe.js';
import { useFakeService } from './use-fake-service.js';

describe.skipIf(!hasBrowser)('lots and numbers at the station, without a keyboard', () => {
  const { service, openAt } = useFakeService({ hasTouch: true, locale: 'en' });

  const open = async (): Promise<WatchedPage> => await openAt('station/hall-a/c1');
  const key = async (page: Page, name: string): Promise<void> => { await page.getByRole('button', { name, exact: true }).tap(); };
  const keys = async (page: Page, text: string): Promise<void> => {
    for (const own of text) await key(page, own);
  };

  it('are entered by keys of 25 mm that are all seen at once, letters, digits, hyphen, slash and delete', async () => {
    service.tell(madeCarriage('c1'));
    const { page, complaints } = await open();
    await page.getByRole('button', { name: 'Checks, spool, flux' }).tap();
    await page.getByRole('button', { name: /^Flux lot/ }).tap();
    await page.getByLabel('Lot – scan or tap').tap();
    // 25 mm are 147 px on a 10.1-inch screen of 1280 × 800: its diagonal is √(1280² + 800²) = 1509 px, 149 px an inch.
    const large = async (): Promise<void> => {
      const boxes = await page.locator('.keypad button').evaluateAll((all) => all.map((own) => own.getBoundingClientRect().toJSON() as DOMRect));
      expect(Math.min(...boxes.flatMap(({ width, height }) => [width, height]))).toBeGreaterThanOrEqual(146);
      expect(Math.max(...boxes.map(({ bottom }) => bottom))).toBeLessThanOrEqual(800);
      expect(Math.min(...boxes.map(({ top }) => top))).toBeGreaterThanOrEqual(0);
    };
    await large();
    await key(page, 'Next keys: A–J');
    await key(page, 'F');
    await large();
    expect(await runAxe(page)).toEqual([]);
    await key(page, 'Previous keys: 0–9');
    await key(page, 'Previous keys: U–Z - /');
    await keys(page, '-');
    await key(page, 'Next keys: 0–9');
    await keys(page, '338');
    await key(page, 'Delete the last character');
    await keys(page, '07');
    await key(page, 'Previous keys: U–Z - /');
    await keys(page, '/X');
    await key(page, 'OK');
    await expect.poll(() => service.writes.at(-1)).toMatchObject({ path: '/api/carriages/hall-a/c1/preparation', body: { fluxLot: 'F-3307/X', by: 'station c1' } });
    // The card is there again, with what leads on.
    await page.getByText(/confirmed by station c1/).waitFor();
    await page.getByRole('button', { name: 'Next', exact: true }).waitFor();
    expect(complaints).toEqual([]);
  });

  it('come from a scanner while the keys are open, too', async () => {
    service.tell(madeCarriage('c1'));
    const { page } = await open();
    await page.getByRole('button', { name: 'Checks, spool, flux' }).tap();
    await page.getByRole('button', { name: /^Wire lot/ }).tap();
    await page.getByLabel('Lot – scan or tap').tap();
    // A press on a key must not take the scanner's typing elsewhere.
    await key(page, '1');
    await key(page, 'Delete the last character');
    await page.keyboard.type('W-88121');
    await page.keyboard.press('Enter');
    await expect.poll(() => service.writes.at(-1)?.body).toMatchObject({ arcs: [{ arc: 1, wireLot: 'W-88121' }] });
  });

  it('say of a new spool its lot, its mass and where it was changed, while the arc burns', async () => {
    service.tell(madeCarriage('c1'));
    const { page } = await open();
    await page.getByRole('button', { name: 'Checks, spool, flux' }).tap();
    await page.getByRole('button', { name: 'Spool changed, flux refilled …' }).tap();
    await page.getByRole('button', { name: 'Spool changed' }).tap();
    await page.getByLabel('Lot – scan or tap').tap();
    await keys(page, '42');
    await key(page, 'OK');
    await page.getByLabel('Mass, kg').tap();
    await keys(page, '25.5');
    await key(page, 'OK');
    await page.getByLabel('Changed at (travelled), mm').tap();
    await key(page, 'Delete the last character');
    await keys(page, '5');
    await key(page, 'OK');
    await key(page, 'Save');
    // 3570 mm stood there; 3575 was entered.
    await expect.poll(() => service.writes.at(-1)).toEqual({ path: '/api/carriages/hall-a/c1/materials', body: { seam: 'DK-0417/L2', run: 3, by: 'station c1', kind: 'spoolChanged', arc: 1, lot: '42', mass: 25.5, travelled: 3575 } });
  });

  it('ask before a run for what the job can hold, and for nothing that would be lost', async () => {
    service.tell(madeCarriage('c1', { welding: false, run: null, outlook: null }));
    const { page } = await open();
    await page.getByRole('button', { name: 'Checks, spool, flux' }).tap();
    await page.getByRole('button', { name: 'Spool changed, flux refilled …' }).tap();
    await page.getByRole('button', { name: 'Flux refilled' }).tap();
    expect(await page.locator('.material-fields label').allInnerTexts()).toEqual(['Lot – scan or tap']);
    await page.getByLabel('Lot – scan or tap').fill('F-9');
    await key(page, 'Save');
    await expect.poll(() => service.writes.at(-1)).toMatchObject({ path: '/api/carriages/hall-a/c1/preparation', body: { fluxLot: 'F-9' } });
  });
});
