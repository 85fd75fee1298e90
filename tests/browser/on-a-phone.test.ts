import { describe, expect, it } from 'vitest';
import { closePages, hasBrowser, openPage } from './open-browser.js';
import { useWeldedService } from './use-welded-service.js';

/** What a finger would miss, what lies over something else that is typed into, what is cut at the side, and what is too small to read; run in the page. */
function stumblingBlocks(): readonly string[] {
  const found: string[] = [];
  // WCAG 2.2, 2.5.5: 44 CSS px. What is folded away has no size; a tile's dots reach further than their box, which floor-controls.test.ts looks at.
  const pressed = Array.from(document.querySelectorAll('button, input, select, summary, nav a, a.action, a.button')).filter((own) => !own.matches('.tile-more, .skip'));
  for (const own of pressed) {
    const { width, height } = (own.closest('label:has([type=checkbox], [type=radio])') ?? own).getBoundingClientRect();
    const name = own.getAttribute('aria-label') ?? own.textContent;
    if (width > 0 && (width < 43.9 || height < 43.9)) found.push(`${own.tagName} ${name}: ${Math.round(width)} × ${Math.round(height)}`);
  }
  const fields = Array.from(document.querySelectorAll('main :is(input, select)'), (own) => ({ own, box: own.getBoundingClientRect() })).filter(({ box }) => box.width > 0);
  for (const [at, a] of fields.entries()) {
    for (const b of fields.slice(at + 1)) {
      if (Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left) > 1 && Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top) > 1) found.push(`${a.own.id} lies over ${b.own.id}`);
    }
  }
  if (document.documentElement.scrollWidth > window.innerWidth) found.push(`the page is ${document.documentElement.scrollWidth} px wide`);
  for (const own of Array.from(document.querySelectorAll('main .scroll'))) if (own.scrollWidth > own.clientWidth + 1) found.push(`${own.textContent.slice(0, 40)} is ${own.scrollWidth} px wide`);
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = texts.nextNode(); node !== null; node = texts.nextNode()) {
    const own = node.parentElement;
    // Common practice, no source: 11 px is the least type of a page.
    if (own !== null && (node.textContent ?? '').trim() !== '' && own.getClientRects().length > 0 && parseFloat(getComputedStyle(own).fontSize) < 10.95) found.push(`${node.textContent ?? ''}: ${getComputedStyle(own).fontSize}`);
  }
  return [...new Set(found)];
}

describe.skipIf(!hasBrowser)('the pages on a phone', () => {
  const { service, browser, run } = useWeldedService();
  const addresses = (): readonly (readonly [string, string])[] => [
    ['', '.tile'],
    ['runs', '.runs tbody tr'],
    [`run/${run()}`, '.panel canvas'],
    ['seam/DK-0417%2FL2', '.runs tbody tr'],
    ['alarms', '.alarm-rates'],
    ['procedures', '.empty .action, .heading .action'],
    ['procedure', '.windows'],
    ['job/hall-a/c2', '.job-form'],
    ['refused', '.empty'],
  ];

  it.each(['en', 'zh'])('nothing is too small for a finger or an eye, cut or overlaid (%s)', async (language) => {
    const { page, complaints } = await openPage(browser(), { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, choices: { language } });
    for (const [address, shown] of addresses()) {
      await page.goto(`${service().http}/#/${address}`);
      await page.locator(shown).first().waitFor();
      await page.evaluate(() => document.fonts.ready);
      await expect.poll(() => page.evaluate(stumblingBlocks), { message: address, timeout: 3_000 }).toEqual([]);
    }
    expect(complaints).toEqual([]);
    await closePages(browser());
  }, 60_000);

  it('names the unit of each number on the card of a run', async () => {
    const { page } = await openPage(browser(), { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
    await page.goto(`${service().http}/#/runs`);
    await page.locator('.runs tbody tr').first().waitFor();
    const labels = await page.locator('.runs tbody tr').first().locator('td.number').evaluateAll((all) => all.map((own) => own.getAttribute('data-label')));
    expect(labels).toEqual(['Length, mm', 'Heat input, kJ/mm', 'Excursions']);
    await closePages(browser());
  });
});
