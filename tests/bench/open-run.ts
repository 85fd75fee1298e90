import { cpus, loadavg } from 'node:os';
import { addProcedure, csvLog, importLog, reviewAssignment, reviewProcedure } from '../browser/import-run.js';
import { openBrowser, openPage } from '../browser/open-browser.js';
import { startService } from '../browser/start-service.js';

/*
 * How long a 30-minute run takes to open in a browser, from the press on its name to the last of the four traces:
 * `npm run build`, then `npx tsx tests/bench/open-run.ts`. One arc at 10 Hz, 18,000 rows, 1920 × 1080.
 */

const minutes = 30;
const times = 7;

/** A pseudo-random share by a linear congruence, so that every run of the bench sees the same log. */
let seed = 12_345;
const share = (): number => {
  seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
  return seed / 2_147_483_648 - 0.5;
};

async function openRun(): Promise<void> {
  const service = await startService();
  const browser = await openBrowser();
  try {
    await addProcedure(service.http, reviewProcedure);
    const log = csvLog(minutes * 60, () => ({ current: Math.round(6200 + 200 * share()) / 10, voltage: Math.round(3050 + 60 * share()) / 100, travelSpeed: Math.round(5800 + 80 * share()) / 10 }));
    const id = await importLog(service.http, 'c1', '2026-11-25T06:00:00Z', log, reviewAssignment);
    const { page } = await openPage(browser, { viewport: { width: 1920, height: 1080 } });
    const taken: number[] = [];
    for (let turn = 0; turn < times; turn += 1) {
      await page.goto(`${service.http}/#/runs`);
      await page.locator('.runs tbody a').waitFor();
      taken.push(
        await page.evaluate(async (address) => {
          const begun = performance.now();
          window.location.hash = address;
          while (document.querySelectorAll('.panel canvas').length < 4 || document.querySelector('.mark-zone') === null) await new Promise((resolve) => requestAnimationFrame(resolve));
          // The drawing itself is a task of its own before the next frame.
          await new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve)));
          return performance.now() - begun;
        }, `#/run/${id}`),
      );
    }
    const sorted = [...taken].sort((a, b) => a - b);
    const text = (value: number | undefined): string => `${Math.round(value ?? Number.NaN)} ms`;
    process.stdout.write(`${minutes} min, 18,000 rows: first ${text(taken[0])}, median ${text(sorted[times >> 1])}, worst ${text(sorted.at(-1))} of ${times}; ${cpus().length} cores, load ${loadavg()[0]?.toFixed(1) ?? ''}\n`);
  } finally {
    await browser.close();
    await service.remove();
  }
}

await openRun();
