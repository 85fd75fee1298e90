import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { Page } from 'playwright-core';

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** What axe-core finds against WCAG 2.2 A and AA and its best practices, one line for each place. */
export async function runAxe(page: Page): Promise<string[]> {
  await page.evaluate(source);
  const violations = await page.evaluate(async () => {
    const { axe: own } = window as unknown as { readonly axe: typeof axe };
    const results = await own.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] });
    return results.violations.map(({ id, nodes }) => ({ id, places: nodes.map((node) => `${node.html.slice(0, 160)} ${node.failureSummary ?? ''}`) }));
  });
  return violations.flatMap(({ id, places }) => places.map((place) => `${id}: ${place}`));
}
