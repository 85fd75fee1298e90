import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { Page } from 'playwright-core';

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const wholeOf = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
/** The only rules that ask how something is coloured. A page looked through in light has nothing else in dark. */
const ofColors = ['color-contrast', 'link-in-text-block'];

/** What axe-core finds in light against WCAG 2.2 A and AA and its best practices, and in dark against what they say of colours; one line for each place. */
export async function runAxe(page: Page): Promise<string[]> {
  await page.evaluate(source);
  const light = await violations(page, { type: 'tag', values: wholeOf });
  await page.emulateMedia({ colorScheme: 'dark' });
  const dark = await violations(page, { type: 'rule', values: ofColors });
  await page.emulateMedia({ colorScheme: 'light' });
  return [...light, ...dark.map((line) => `in dark: ${line}`)];
}

async function violations(page: Page, runOnly: axe.RunOnly): Promise<string[]> {
  const found = await page.evaluate(async (rules) => {
    // A colour on its way to another one is seen for a moment only.
    for (const own of document.getAnimations()) if (own.effect?.getComputedTiming().endTime !== Infinity) own.finish();
    const { axe: own } = window as unknown as { readonly axe: typeof axe };
    const results = await own.run(document, { runOnly: rules });
    return results.violations.map(({ id, nodes }) => ({ id, places: nodes.map((node) => `${node.html.slice(0, 160)} ${node.failureSummary ?? ''}`) }));
  }, runOnly);
  return found.flatMap(({ id, places }) => places.map((place) => `${id}: ${place}`));
}
