import { spawn } from 'node:child_process';
import { mkdirSync, statSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { built } from './built.js';
import { openBrowser, openPage } from './open-browser.js';

const program = join(built, 'services/seamwarden.js');
const folder = fileURLToPath(new URL('../../dashboards/pictures/', import.meta.url));

/** The README's pictures may be no larger than this, bytes. */
const mostBytes = 300_000;

interface RunSeen {
  readonly id: string;
  readonly state: string;
  readonly arcs: readonly unknown[];
  readonly restarts: readonly unknown[];
  readonly dataGaps: readonly unknown[];
}

/**
 * Plays the demo and takes the README's pictures of it: `npx tsx tests/browser/take-pictures.ts`, after `npm run build`. It plays as fast as a clock: carriages that are
 * simulated faster have clocks that run ahead, which pages say rightly, and which nobody sees in a shop.
 */
async function takePictures(): Promise<void> {
  const demo = spawn(process.execPath, [program, 'demo'], { stdio: ['ignore', 'pipe', 'inherit'] });
  const ended = new Promise<void>((resolve) => demo.once('close', () => { resolve(); }));
  const browser = await openBrowser();
  try {
    const base = await addressOf(demo.stdout, ended);
    mkdirSync(folder, { recursive: true });
    const { page } = await openPage(browser, { viewport: { width: 1280, height: 800 } });
    const place = await alarmedCarriage(base);
    await page.goto(`${base}/`);
    await page.locator('.tile').first().waitFor();
    await wait(1_000);
    await page.screenshot({ path: `${folder}floor.png` });
    await page.goto(`${base}/#/station/${place}`);
    await wait(1_000);
    await page.screenshot({ path: `${folder}station.png` });
    const run = await tellingRun(base);
    await page.goto(`${base}/#/run/${run.id}`);
    await page.locator('.panel canvas').last().waitFor();
    const drawing = await page.locator('.u-over').first().boundingBox();
    if (drawing !== null) await page.mouse.move(drawing.x + drawing.width * 0.4, drawing.y + drawing.height / 2);
    await wait(1_000);
    await page.screenshot({ path: `${folder}run.png` });
    for (const name of ['floor.png', 'station.png', 'run.png']) {
      const { size } = statSync(folder + name);
      process.stdout.write(`dashboards/pictures/${name} ${Math.round(size / 1000)} kB\n`);
      if (size > mostBytes) throw new Error(`${name} is larger than ${mostBytes / 1000} kB`);
    }
  } finally {
    await browser.close();
    demo.kill('SIGTERM');
    await ended;
  }
}

/** Waits for a voltage that lies outside its window now: `SITE/CARRIAGE` of it. */
async function alarmedCarriage(base: string): Promise<string> {
  for (let tries = 0; tries < 3000; tries += 1) {
    const answer = (await (await fetch(`${base}/api/alarms?state=unacknowledged`)).json()) as { items: { quantity: string; site: string; carriage: string }[] };
    const alarm = answer.items.find(({ quantity }) => quantity === 'voltage');
    if (alarm !== undefined) return `${alarm.site}/${alarm.carriage}`;
    await wait(200);
  }
  throw new Error('no voltage left its window in ten minutes of the demo');
}

async function addressOf(output: NodeJS.ReadableStream, ended: Promise<void>): Promise<string> {
  let said = '';
  return await new Promise((resolve, reject) => {
    output.on('data', (chunk: Buffer) => {
      said += chunk.toString('utf8');
      const address = /http:\/\/[\d.:]+/.exec(said);
      if (address !== null) resolve(address[0]);
    });
    void ended.then(() => {
      reject(new Error('the demo ended before it said where it listens'));
    });
  });
}

/** A finished run with something to see in it; after ten minutes any finished one. */
async function tellingRun(base: string): Promise<RunSeen> {
  const begun = Date.now();
  for (;;) {
    const answer = await fetch(`${base}/api/runs?state=finished`);
    const { items } = (await answer.json()) as { readonly items: readonly RunSeen[] };
    const telling = items.find((run) => run.restarts.length + run.dataGaps.length > 0);
    const [any] = items;
    if (telling !== undefined) return telling;
    if (any !== undefined && Date.now() - begun > 600_000) return any;
    if (Date.now() - begun > 1_500_000) throw new Error('the demo finished no run within 25 min');
    await wait(1_000);
  }
}

await takePictures();
