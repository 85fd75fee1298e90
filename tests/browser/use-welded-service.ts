import type { Browser } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { openBrowser } from './open-browser.js';
import { sendSteadyRun, startSending } from './send-readings.js';
import type { Sender } from './send-readings.js';
import { startService } from './start-service.js';
import type { ServiceUnderTest } from './start-service.js';

export interface WeldedService {
  readonly service: () => ServiceUnderTest;
  readonly browser: () => Browser;
  /** The run of carriage c1 that has ended; c2 goes on welding. */
  readonly run: () => string;
}

/** A service for the tests of a block, with one run that has ended and one that goes on, and a browser. */
export function useWeldedService(): WeldedService {
  let service: ServiceUnderTest;
  let browser: Browser;
  let sender: Sender;
  let run: string;
  beforeAll(async () => {
    service = await startService();
    browser = await openBrowser();
    run = await sendSteadyRun(service, 'c1', 'DK-0417/L2', { simulated: true });
    sender = await startSending(service.mqtt, 'c2');
  });
  afterAll(async () => {
    await sender.stop();
    await browser.close();
    await service.remove();
  });
  return { service: () => service, browser: () => browser, run: () => run };
}
