import { existsSync } from 'node:fs';
import { chromium } from 'playwright-core';
import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core';

const programs = ['/usr/bin/chromium-headless-shell', '/usr/bin/chromium'];
const program = process.env['CHROMIUM'] ?? programs.find((path) => existsSync(path)) ?? 'chromium';

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

/** Playwright's own way to begin with a page as new without a new process for it, made for its tests of components; no public name, and the lock file holds the version. */
interface Reusing {
  readonly _newContextForReuse: (options: BrowserContextOptions) => Promise<BrowserContext>;
  readonly _disconnectFromReusedContext: (reason: string) => Promise<void>;
}

const reusing = (browser: Browser): Reusing => browser as unknown as Reusing;

/** The context that is used again, while a test has it. */
const held = new WeakMap<Browser, BrowserContext>();

/** What the first page was left with (storage, routes, scripts, clock, size, media) is undone; a second one beside it has a context of its own. */
async function newContext(browser: Browser, options: BrowserContextOptions): Promise<BrowserContext> {
  if (held.has(browser)) return await browser.newContext(options);
  const context = await reusing(browser)._newContextForReuse(options);
  held.set(browser, context);
  return context;
}

/** A page as of a new visitor, 1280 × 800 unless said otherwise. */
export async function openPage(browser: Browser, { choices = {}, ...options }: PageOptions = {}): Promise<WatchedPage> {
  const context = await newContext(browser, { viewport: { width: 1280, height: 800 }, ...options });
  const page = context.pages()[0] ?? (await context.newPage());
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

/** Ends what the open pages do. The one that is used again is left empty, which takes half the time of a new process. */
export async function closePages(browser: Browser): Promise<void> {
  const kept = held.get(browser);
  await Promise.all(browser.contexts().filter((context) => context !== kept).map(async (context) => { await context.close(); }));
  if (kept === undefined) return;
  held.delete(browser);
  await kept.pages()[0]?.goto('about:blank');
  await reusing(browser)._disconnectFromReusedContext('closed');
}
