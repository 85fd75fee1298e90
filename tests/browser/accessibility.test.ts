import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { closePages, hasBrowser, openPage } from './open-browser.js';
import { runAxe } from './run-axe.js';
import { useWeldedService } from './use-welded-service.js';

describe.skipIf(!hasBrowser)('the pages, for everyone', () => {
  const { service, browser, run } = useWeldedService();
  const addresses = (): readonly (readonly [string, string])[] => [
    ['/#/', '.tile'],
    ['/#/station/hall-a/c2', '.quantity'],
    ['/#/runs', '.runs'],
    ['/#/runs?seam=none', '.empty'],
    [`/#/run/${run()}`, '.panel canvas'],
    ['/#/alarms', '.alarm-rates'],
    ['/#/capability', '.capability-choices'],
    ['/#/sensors/hall-a/c2', '.sensors-form'],
    ['/#/refused', '.empty'],
    ['/#/nowhere', '.empty'],
  ];

  it('axe-core finds nothing, in what is good and in what is not', async () => {
    const { page } = await openPage(browser());
    for (const [address, shown] of addresses()) {
      await page.goto(service().http + address);
      await page.locator(shown).first().waitFor();
      expect(await runAxe(page), address).toEqual([]);
    }
    await page.route('**/api/**', (route) => route.abort());
    await page.goto(`${service().http}/#/`);
    await page.reload();
    await page.locator('.banner').waitFor();
    expect(await runAxe(page), 'unreachable').toEqual([]);
    await closePages(browser());
  });

  it('the keyboard reaches everything that can be pressed, and focus is seen', async () => {
    const { page } = await openPage(browser());
    for (const [address, shown] of addresses()) {
      await page.goto(service().http + address);
      await page.reload();
      await page.locator(shown).first().waitFor();
      // Folded content must be reachable too, once it is opened.
      await page.locator('main details').evaluateAll((all) => { for (const own of all) own.setAttribute('open', ''); });
      expect(await reachedByTab(page), address).toEqual(await pressable(page));
    }
    await closePages(browser());
  });

  it('names what is invented and gives the caution on every page', async () => {
    const { page } = await openPage(browser());
    for (const [address, shown] of addresses()) {
      await page.goto(service().http + address);
      await page.locator(shown).first().waitFor();
      expect(await page.locator('#app').innerText(), address).not.toContain('Loading … /');
      expect(await page.locator('footer').last().innerText(), address).toContain('It is not a safety device');
      if (shown === '.runs' || shown === '.panel canvas') expect(await page.getByText('simulated', { exact: true }).count(), address).toBe(1);
    }
    await closePages(browser());
  });
});

/** One mark for each element that a mouse could use; of radio buttons of a group, Tab reaches the one that is set. */
async function pressable(page: Page): Promise<string[]> {
  return await page.evaluate(() =>
    Array.from(document.querySelectorAll<HTMLElement>('a[href], button:not(:disabled), input:not([type=radio], [type=hidden]), input[type=radio]:checked, select'), (own) => `${own.tagName} ${own.textContent.trim()}`),
  );
}

/** More presses of Tab than any page has stops: one on which they run out has a trap. */
const mostPresses = 300;

/** What Tab comes to, from the top of the page to its end, each with a focus that is drawn. */
async function reachedByTab(page: Page): Promise<string[]> {
  const reached: string[] = [];
  await page.evaluate(() => {
    document.body.tabIndex = -1;
    document.body.focus();
    document.body.removeAttribute('tabindex');
  });
  for (let step = 0; step < mostPresses; step += 1) {
    await page.keyboard.press('Tab');
    const own = await page.evaluate(() => {
      const element = document.activeElement;
      // After the last element Tab begins again, with or without a stop in between.
      if (!(element instanceof HTMLElement) || element === document.body) return null;
      // A date has a stop for each of its parts.
      if (element.dataset['reached'] === 'last') return 'again';
      if (element.dataset['reached'] !== undefined) return null;
      for (const before of Array.from(document.querySelectorAll<HTMLElement>('[data-reached]'))) before.dataset['reached'] = 'before';
      element.dataset['reached'] = 'last';
      return { name: `${element.tagName} ${element.textContent.trim()}`, outline: getComputedStyle(element).outlineStyle, usable: element.matches('a, button, input, select') };
    });
    if (own === null) break;
    if (own === 'again') continue;
    expect(own.outline, own.name).not.toBe('none');
    if (own.usable) reached.push(own.name);
  }
  return reached;
}
