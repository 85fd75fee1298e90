import { describe, expect, it } from 'vitest';
import { isFull } from '../counts.js';
import { firstSeed } from '../seeds.js';
import { madeCarriage } from './made-carriages.js';
import { madeFloor } from './made-floor.js';
import { hasBrowser } from './open-browser.js';
import { useFakeService } from './use-fake-service.js';

const sizes = [[1280, 800], [1920, 1080], [3840, 2160], [390, 844]] as const;
const few = [1, 5, 8, 12, 20, 29];
/** The most, and of fewer one, another each time. */
const counts = isFull ? [...few, 52] : [few[firstSeed() % few.length] ?? 1, 52];

/** Texts of which a part lies outside the page or what holds them, and what holds more than it shows; run in the page. */
function cutTexts(): readonly string[] {
  const cut: string[] = [];
  const texts = document.createTreeWalker(document.querySelector('main') ?? document.body, NodeFilter.SHOW_TEXT);
  for (let node = texts.nextNode(); node !== null; node = texts.nextNode()) {
    const text = node.textContent?.trim() ?? '';
    const own = node.parentElement;
    if (text === '' || own === null || own.closest('.unseen, dialog') !== null) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const type = parseFloat(getComputedStyle(own).fontSize);
    for (const { left, right, top, bottom } of Array.from(range.getClientRects())) {
      // The box of a line of text is as high as its face asks for, which is a little more than what is drawn.
      const high = 0.12 * type;
      for (let holder: Element | null = own; holder !== null && holder !== document.documentElement; holder = holder.parentElement) {
        const { overflowX, overflowY } = getComputedStyle(holder);
        const box = holder.getBoundingClientRect();
        if (overflowX !== 'visible' && (left < box.left - 1 || right > box.right + 1)) cut.push(`${text} | sideways in ${holder.className}`);
        if (overflowY !== 'visible' && (top < box.top - high || bottom > box.bottom + high)) cut.push(`${text} | ${Math.round(bottom - box.bottom)} px below ${holder.className}`);
      }
      if (left < 0 || right > window.innerWidth + 1) cut.push(`${text} | beside the page`);
    }
  }
  for (const own of Array.from(document.querySelectorAll('main *'))) {
    if (own.closest('svg, dialog, .unseen') === null && getComputedStyle(own).overflowX !== 'visible' && own.scrollWidth > own.clientWidth + 1) cut.push(`${own.className}: ${own.textContent} | ${own.scrollWidth} in ${own.clientWidth} px`);
  }
  return [...new Set(cut)];
}

/** Texts that lie over one another within one tile; run in the page. */
function overlaps(): readonly string[] {
  const found: string[] = [];
  for (const tile of Array.from(document.querySelectorAll('.tile'))) {
    const parts = Array.from(tile.querySelectorAll(':scope > p, :scope > .tile-values, :scope > .tile-cells, :scope > .tile-end'), (own) => ({ own, box: own.getBoundingClientRect() }));
    for (const [at, a] of parts.entries()) {
      for (const b of parts.slice(at + 1)) {
        const wide = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
        const high = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
        if (wide > 1 && high > 2) found.push(`${a.own.textContent} | ${b.own.textContent}`);
      }
    }
  }
  return found;
}

/** Texts that lie under the three dots of their tile, where those are always seen; run in the page. */
function underDots(): readonly string[] {
  return Array.from(document.querySelectorAll('.tile:not(.tile-pair, .tile-line)')).flatMap((tile) => {
    const dots = tile.querySelector('.tile-more > span')?.getBoundingClientRect();
    const texts = Array.from(tile.querySelectorAll('.tile-short, .tile-job, .tile-state'), (own) => {
      const range = document.createRange();
      range.selectNodeContents(own);
      return { own, box: range.getBoundingClientRect() };
    });
    return dots === undefined ? [] : texts.filter(({ box }) => box.right > dots.left + 1 && box.top < dots.bottom).map(({ own }) => own.textContent);
  });
}

/** The text of each tile, and the smallest type of its values, px; in one step, as a tile may be redrawn between two. */
function valuesOfTiles(): { readonly text: string; readonly type: number }[] {
  return Array.from(document.querySelectorAll('.tile'), (tile) => ({
    text: tile.textContent.replaceAll('\u00a0', ' '),
    type: Math.min(...Array.from(tile.querySelectorAll('.tile-values span'), (own) => parseFloat(getComputedStyle(own).fontSize))),
  }));
}

describe.skipIf(!hasBrowser)('the floor on every screen', () => {
  const { service, newPage, openAt, closeAll } = useFakeService();

  for (const count of counts) {
    it.each(sizes)(`cuts no text of ${count} carriages in any state at %i × %i, in both languages`, async (width, height) => {
      service.tell(...madeFloor(count));
      for (const language of ['en', 'zh']) {
        const { page, complaints } = await newPage({ viewport: { width, height } });
        await page.goto(`${service.http}/#/?language=${language}`);
        await page.locator('[data-carriage]').nth(count - 1).waitFor();
        await page.evaluate(() => document.fonts.ready);
        // It settles once the room is measured and the first values have come.
        await expect.poll(() => page.evaluate(cutTexts), { message: language, timeout: 3_000 }).toEqual([]);
        expect(await page.evaluate(overlaps), language).toEqual([]);
        expect(await page.evaluate(underDots), language).toEqual([]);
        if (width > 700) expect(await page.evaluate(() => document.documentElement.scrollHeight <= window.innerHeight), language).toBe(true);
        expect(complaints).toEqual([]);
        await closeAll();
      }
    }, 90_000);
  }

  for (const count of [6, 8, 12]) {
    it.each(sizes.slice(0, 3))(`draws trends on the tiles of ${count} carriages at %i × %i, and leaves what is read as large as it has to be`, async (width, height) => {
      service.tell(...Array.from({ length: count }, (_, at) => madeCarriage(`c${at + 1}`)));
      const { page } = await openAt('', { viewport: { width, height } });
      await page.locator('[data-carriage]').nth(count - 1).waitFor();
      await page.evaluate(() => document.fonts.ready);
      const tiles = async (): Promise<readonly { trends: readonly number[]; name: number; digits: number }[]> => await page.locator('.tile').evaluateAll((all) => all.map((tile) => {
        const types = (selector: string): readonly number[] => Array.from(tile.querySelectorAll(selector), (own) => parseFloat(getComputedStyle(own).fontSize));
        return { trends: Array.from(tile.querySelectorAll('.trend-line'), (own) => own.getBoundingClientRect().height), name: Math.min(...types('.tile-own-name')), digits: Math.min(...types('.tile-cell strong')) };
      }));
      // Current, voltage, travel speed and heat input; common practice, no source: a line of half the height of the type beside it shows where it goes.
      await expect.poll(async () => (await tiles()).every(({ trends, digits }) => trends.length === 4 && Math.min(...trends) >= digits / 2)).toBe(true);
      for (const { name, digits } of await tiles()) {
        // As README says of 5 m and 55 inches: capitals of 15 minutes of arc are a type of 2.51 % of the width; values, for who walks up, two thirds of that.
        expect(name).toBeGreaterThanOrEqual(0.0251 * width);
        expect(digits).toBeGreaterThanOrEqual((0.0251 * width * 2) / 3);
      }
    });
  }

  it('shows current, voltage and travel speed of each of 52 carriages, in type that can be read at a desk', async () => {
    service.tell(...madeFloor(52));
    const { page } = await newPage({ viewport: { width: 1920, height: 1080 } });
    await page.goto(`${service.http}/#/`);
    await page.locator('[data-carriage]').nth(51).waitFor();
    const tiles = await page.evaluate(valuesOfTiles);
    for (const { text, type } of tiles) {
      expect(text).toMatch(/\d A.*\d V.*\d mm\/min/);
      // 16 px is what browsers take for text that is read at arm's length; what has three lines has a little less.
      expect(type).toBeGreaterThanOrEqual(14.5);
    }
    await closeAll();
  });

  it('cuts no text above or below its line, however tall its face is', async () => {
    service.tell(...madeFloor(11));
    const { page } = await openAt('', { viewport: { width: 1280, height: 800 } });
    await page.locator('[data-carriage]').nth(10).waitFor();
    const ways = await page.evaluate(() => Array.from(document.querySelectorAll('.tile p, .urgent strong, .trouble-list p'), (own) => getComputedStyle(own).overflowY));
    expect(new Set(ways)).toEqual(new Set(['visible']));
  });

  it.each([[1024, 768], [1280, 800]] as const)('leaves out values of 52 carriages at %i × %i before they are too small to read', async (width, height) => {
    service.tell(...madeFloor(52));
    const { page } = await openAt('', { viewport: { width, height } });
    await page.locator('.tile-values').nth(30).waitFor();
    await page.evaluate(() => document.fonts.ready);
    await expect.poll(() => page.evaluate(cutTexts)).toEqual([]);
    const tiles = await page.evaluate(valuesOfTiles);
    for (const { text, type } of tiles) {
      expect(text).toMatch(/\d A.*\d V/);
      // Common practice, no source: 11 px is the least type of a page.
      expect(type).toBeGreaterThanOrEqual(10.95);
    }
  });
});
