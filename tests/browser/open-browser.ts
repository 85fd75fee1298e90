import { existsSync } from 'node:fs';
import { chromium } from 'playwright-core';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';

const program = process.env['CHROMIUM'] ?? '/usr/bin/chromium';

/** Whether tests in a browser can run; where not, why is printed once. */
export const hasBrowser = existsSync(program);
if (!hasBrowser) process.stderr.write(`tests in a browser are skipped: there is no ${program}; install chromium, or name it in CHROMIUM\n`);

export async function openBrowser(): Promise<Browser> {
  return await chromium.launch({
    executablePath: program,
    headless: true,
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
  });
}

export interface WatchedPage {
  readonly page: Page;
  /** What the page complained of: errors that nobody caught, and what its content security policy refused. */
  readonly complaints: string[];
}

export interface PageOptions extends BrowserContextOptions {
  /** What its reader chose before, as `language` or `units`. */
  readonly choices?: Readonly<Record<string, string>>;
}

/** A page in a context of its own, 1280 × 800 unless said otherwise. */
export async function openPage(browser: Browser, { choices = {}, ...options }: PageOptions = {}): Promise<WatchedPage> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, ...options });
  const page = await context.newPage();
  await page.addInitScript((own) => {
    for (const [name, value] of Object.entries(own)) localStorage.setItem(`seamwarden.${name}`, value);
  }, choices);
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    // A request that fails while the service is down is logged by the browser and no fault of the page.
    if (message.type() === 'error' && !message.text().startsWith('Failed to load resource')) complaints.push(message.text());
  });
  return { page, complaints };
}
