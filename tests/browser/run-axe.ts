import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { Page } from 'playwright-core';

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const wholeOf = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
/** The only rules that ask how something is coloured. A page looked through in light has nothing else in dark. */
const ofColors = ['color-contrast', 'link-in-text-block'];

/** What axe-core finds against WCAG 2.2 A and AA and its best practices, one line for each place; in dark, against what they say of colours. */
export async function runAxe(page: Page): Promise<string[]> {
  await page.evaluate(source);
  const violations = await page.evaluate(async ({ tags, rules }) => {
    const { axe: own } = window as unknown as { readonly axe: typeof axe };
    const isDark = matchMedia('(prefers-color-scheme: dark)').matches;
    const results = await own.run(document, { runOnly: isDark ? { type: 'rule', values: rules } : tags });
    return results.violations.map(({ id, nodes }) => ({ id, places: nodes.map((node) => `${node.html.slice(0, 160)} ${node.failureSummary ?? ''}`) }));
  }, { tags: wholeOf, rules: ofColors });
  return violations.flatMap(({ id, places }) => places.map((place) => `${id}: ${place}`));
}
