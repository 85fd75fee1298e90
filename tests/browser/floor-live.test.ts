import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closePages, hasBrowser, openBrowser, openPage } from './open-browser.js';
import { startSending } from './send-readings.js';
import { startService } from './start-service.js';
import type { ServiceUnderTest } from './start-service.js';

const caution =
  'Seamwarden records and warns. It is not a safety device and does not replace the emergency stop, the responsible welding coordinator, the governing code or local rules.';

describe.skipIf(!hasBrowser)('floor and station at a running service', () => {
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

  it('say how to connect a carriage, show one as it connects, follow it, and strike its values through when it falls silent', async () => {
    const { page, complaints } = await openPage(browser);
    await page.goto(service.http);
    await page.getByRole('heading', { name: 'No carriage has sent anything yet' }).waitFor();
    expect(await page.locator('main').innerText()).toContain('weld/{site}/{carriage}/readings');
    expect(await page.locator('pre').innerText()).toBe(`mosquitto_pub -h 127.0.0.1 -p ${new URL(service.mqtt).port} -q 1 -t weld/hall-a/c1/readings -m '{"interval": 1000, "current": [612, 609, 611, 613, 610, 612], "voltage": 31.2, "travelSpeed": 520}'`);
    expect(await page.locator('footer').last().innerText()).toBe(caution);

    const sender = await startSending(service.mqtt, 'c1');
    const tile = page.locator('[data-carriage="hall-a/c1"]');
    // Nothing assigns it, so there is nothing to judge it by.
    await tile.getByText('Not monitored', { exact: true }).waitFor();
    await tile.getByRole('link', { name: 'Carriage c1, hall-a' }).click();
    const current = page.locator('[data-quantity="current"] .quantity-digits');
    await current.waitFor();
    const first = await current.innerText();
    expect(first).toMatch(/^6\d\d$/);
    await expect.poll(() => current.innerText()).not.toBe(first);
    expect(await page.locator('.quantity-digits s').count()).toBe(0);
    expect(await page.locator('footer').last().innerText()).toBe(caution);

    await sender.stop();
    const silentSince = Date.now();
    await page.locator('.quantity-digits s').first().waitFor({ timeout: 8_000 });
    // Promised is 2 s; the rest is left to the machine that tests.
    expect(Date.now() - silentSince).toBeLessThan(4_500);
    expect(await page.locator('.headline-first').innerText()).toMatch(/No data for \d/);
    await page.getByRole('button', { name: 'Menu' }).click();
    await page.getByRole('link', { name: 'Shop floor' }).click();
    await tile.getByText('No data', { exact: true }).waitFor();
    expect(await page.locator('.floor-summary').innerText()).toContain('1 in alarm');
    expect(complaints).toEqual([]);
    await closePages(browser);
  });

  it('say in words that the service is gone, and mend themselves when it is back', async () => {
    const { page, complaints } = await openPage(browser);
    await page.goto(service.http);
    await page.getByText('Connected', { exact: true }).waitFor();
    await service.stop();
    await page.getByText(/No answer from the server since \d\d:\d\d:\d\d/).waitFor({ timeout: 15_000 });
    await page.getByText('Not connected', { exact: true }).waitFor();
    await service.startAgain();
    await page.getByText('Connected', { exact: true }).waitFor({ timeout: 20_000 });
    expect(await page.getByText('No answer from the server').count()).toBe(0);
    const sender = await startSending(service.mqtt, 'c7');
    await page.locator('[data-carriage="hall-a/c7"]').getByText('Not monitored', { exact: true }).waitFor();
    await sender.stop();
    expect(complaints).toEqual([]);
    await closePages(browser);
  });

  it('show the reason where the service cannot store', async () => {
    const { page } = await openPage(browser);
    // A disk that is full cannot be had here without harm to others: the answer is put in the service's place, as RFC 9457 has it.
    await page.route('**/api/health', (route) =>
      route.fulfill({
        status: 503,
        contentType: 'application/problem+json',
        body: JSON.stringify({ type: 'about:blank', title: 'Service Unavailable', status: 503, detail: 'Data cannot be stored: the disk is full.', instance: '/api/health' }),
      }),
    );
    await page.goto(service.http);
    await page.getByText('The server reports a fault.').waitFor();
    expect(await page.locator('.banner').innerText()).toContain('Data cannot be stored: the disk is full.');
    await page.unroute('**/api/health');
    await page.locator('.banner').waitFor({ state: 'detached', timeout: 10_000 });
    await closePages(browser);
  });
});
