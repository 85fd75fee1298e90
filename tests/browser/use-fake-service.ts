import type { Browser } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach } from 'vitest';
import type { FakeService } from './fake-service.js';
import { fakeService } from './fake-service.js';
import { closePages, openBrowser, openPage } from './open-browser.js';
import type { PageOptions, WatchedPage } from './open-browser.js';

export interface PagesUnderTest {
  readonly service: FakeService;
  readonly newPage: (options?: PageOptions) => Promise<WatchedPage>;
  /** A new page at an address of the service, as `station/hall-a/c1`. */
  readonly openAt: (address: string, options?: PageOptions) => Promise<WatchedPage>;
  /** Ends the pages before the test ends. */
  readonly closeAll: () => Promise<void>;
}

/** A fake service and a browser for the tests of a block. Each test finds a service that knows nothing and takes all; its pages are closed after it. `usual` holds for every page. */
export function useFakeService(usual: PageOptions = {}): PagesUnderTest {
  const service = fakeService();
  let browser: Browser | null = null;
  beforeAll(async () => {
    await service.start();
    browser = await openBrowser();
  });
  beforeEach(() => {
    service.forget();
    service.mute(false);
    service.refuseWrites(null);
  });
  const closeAll = async (): Promise<void> => {
    if (browser !== null) await closePages(browser);
  };
  afterEach(closeAll);
  afterAll(async () => {
    await browser?.close();
    await service.stop();
  });
  const newPage = async (options: PageOptions = {}): Promise<WatchedPage> => {
    if (browser === null) throw new Error('a page is opened by a test, once the browser runs');
    return await openPage(browser, { ...usual, ...options });
  };
  return {
    service,
    newPage,
    closeAll,
    openAt: async (address, options) => {
      const opened = await newPage(options);
      await opened.page.goto(`${service.http}/#/${address}`);
      return opened;
    },
  };
}
