import { cpus, loadavg } from 'node:os';
import { setTimeout as wait } from 'node:timers/promises';
import mqtt from 'mqtt';
import type { MqttClient } from 'mqtt';
import type { Alarm } from '../../shared/api-types/alarm.js';
import { hasBrowser, openBrowser, openPage } from '../browser/open-browser.js';
import { scratchDir, startProcess } from '../faults/service-process.js';
import { readEvents } from './read-events.js';

/*
 * How long an alarm takes: `npx tsx tests/bench/alarm-latency.ts [carriages] [cycles]` (50 and 6; build first). Carriages send readings at 10 Hz in real time and
 * leave their window on voltage at known moments. Measured is the time from the publish of the reading by which the on-delay is
 * over to the `alarm` event at a reader of the live feed, and to the floor page in Chromium saying so.
 */

const carriages = Number(process.argv[2] ?? 50);
const cycles = Number(process.argv[3] ?? 6);
const step = 100;
const site = 'bench';
/** s; the defaults of a procedure. */
const smoothing = 1;
const onDelay = 1;
const limit = 32;
const voltageInside = 30;
const voltageOutside = 36;
/** Readings outside, and inside again: longer than the off-delay of 3 s. */
const outsideFor = 30;
const insideFor = 50;

const procedure = {
  id: 'SA-1',
  runGroups: [{ runs: [1, 9], arcs: [{ arc: 1, voltage: { max: limit } }], travelSpeed: { min: 400 } }],
  alarm: { smoothing, onDelay },
};

/**
 * How many readings after the first one outside the on-delay is over, by the rules alone: rows of 100 ms that begin with a reading each, their judged
 * value the mean over the smoothing centred on them (what lies half within counts half), outside for at least the on-delay; the row is known with the
 * reading that ends the last row of its mean.
 */
function decidingReading(): number {
  const reach = (smoothing * 1000) / 2 / step;
  const judged = (row: number): number => {
    let sum = 0;
    let weight = 0;
    for (let near = row - Math.ceil(reach); near <= row + Math.ceil(reach); near += 1) {
      const share = Math.min(1, Math.max(0, reach + 0.5 - Math.abs(near - row)));
      sum += share * (near >= 0 ? voltageOutside : voltageInside);
      weight += share;
    }
    return sum / weight;
  };
  let first = -Math.ceil(reach) - 1;
  while (judged(first) <= limit) first += 1;
  const established = first + Math.round((onDelay * 1000) / step) - 1;
  return established + Math.ceil(reach) + 1;
}

interface Sending {
  readonly name: string;
  readonly client: MqttClient;
  seq: number;
  /** Reading with which it leaves the window next. */
  leaves: number;
  /** When the deciding reading of the present cycle was published, ms since 1970; null once the alarm has come. */
  decided: number | null;
  onPage: number | null;
  tooEarly: boolean;
}

const now = (): number => performance.timeOrigin + performance.now();

function percentile(sorted: readonly number[], share: number): number {
  return sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)] ?? Number.NaN;
}

function print(what: string, times: readonly number[]): void {
  const sorted = [...times].sort((a, b) => a - b);
  const cell = (share: number): string => percentile(sorted, share).toFixed(1).padStart(8);
  console.log(`${what.padEnd(44)}${String(sorted.length).padStart(6)}${cell(0.5)}${cell(0.95)}${cell(0.99)}${cell(1)}`);
}

/** Tells in the page whenever a carriage's trouble comes to be seen there, once per alarm; runs in the browser. */
function watchPage(): void {
  const seen = new Set<string>();
  const tell = (window as unknown as { told: (carriage: string, at: number) => void }).told;
  const look = (): void => {
    const troubled = new Set<string>();
    for (const tile of Array.from(document.querySelectorAll('.tile-trouble[data-carriage]'))) {
      // Short tiles have the symbol of the quantity, full ones its name.
      if (/voltage|\bU\b/i.test(tile.textContent)) troubled.add(tile.getAttribute('data-carriage')?.split('/').at(-1) ?? '');
    }
    const urgent = /^(c\d+):/.exec(document.querySelector('.urgent strong')?.textContent ?? '')?.[1];
    if (urgent !== undefined) troubled.add(urgent);
    for (const carriage of troubled) if (!seen.has(carriage)) requestAnimationFrame(() => { tell(carriage, performance.timeOrigin + performance.now()); });
    seen.clear();
    for (const carriage of troubled) seen.add(carriage);
  };
  new MutationObserver(look).observe(document.body, { subtree: true, childList: true, characterData: true, attributes: true });
}

async function main(): Promise<void> {
  const dir = scratchDir();
  const service = startProcess({ dataDir: dir.path });
  const browser = hasBrowser ? await openBrowser() : null;
  const toReader: number[] = [];
  const toPage: number[] = [];
  let early = 0;
  try {
    const { http, mqtt: url } = await service.listening;
    const posted = await fetch(`${http}/api/procedures`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(procedure) });
    if (!posted.ok) throw new Error(`the procedure was answered with ${posted.status}`);
    const deciding = decidingReading();
    const start = Math.ceil(Date.now() / step) * step;
    const sendings = await Promise.all(
      Array.from({ length: carriages }, async (_, i): Promise<Sending> => {
        const name = `c${i}`;
        const client = await mqtt.connectAsync(url, { clientId: name });
        await client.publishAsync(`weld/${site}/${name}/assignment`, JSON.stringify({ seam: `S-${i}`, run: 1, procedure: procedure.id, simulated: true }), { qos: 1 });
        return { name, client, seq: 0, leaves: 60 + Math.floor((i * (outsideFor + insideFor)) / carriages), decided: null, onPage: null, tooEarly: false };
      }),
    );
    const byName = new Map(sendings.map((own) => [own.name, own]));
    const known = new Set<string>();
    const reading = readEvents(`${http}/api/live`, (event, data) => {
      if (event !== 'alarm') return;
      const alarm = JSON.parse(data) as Alarm;
      const own = byName.get(alarm.carriage ?? '');
      if (own === undefined || alarm.quantity !== 'voltage') return;
      // People on the floor acknowledge cleared alarms, so that they do not pile up.
      if (alarm.state === 'returned') void fetch(`${http}/api/alarms/${alarm.id}/acknowledge`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: '{}' });
      if (known.has(alarm.id)) return;
      known.add(alarm.id);
      if (own.decided === null) early += 1;
      else toReader.push(now() - own.decided);
      own.decided = null;
    });
    if (browser !== null) {
      const { page } = await openPage(browser, { viewport: { width: 1920, height: 1080 } });
      await page.exposeFunction('told', (carriage: string, at: number) => {
        const own = byName.get(carriage);
        if (own?.onPage == null) return;
        toPage.push(at - own.onPage);
        own.onPage = null;
      });
      await page.goto(`${http}/#/`);
      // tsx wraps inner functions in a helper of that name, which the page does not have.
      await page.evaluate('globalThis.__name = (own) => own');
      await page.evaluate(watchPage);
    }
    const last = 60 + cycles * (outsideFor + insideFor) + insideFor;
    for (let tick = 0; tick < last; tick += 1) {
      await wait(Math.max(0, start + tick * step - Date.now()));
      for (const own of sendings) {
        if (own.seq >= own.leaves + outsideFor + insideFor) own.leaves += outsideFor + insideFor;
        const outside = own.seq >= own.leaves && own.seq < own.leaves + outsideFor;
        const reading = { boot: 'b1', seq: own.seq, time: start + own.seq * step, current: 600, voltage: outside ? voltageOutside : voltageInside, travelSpeed: 550 };
        if (own.seq === own.leaves + deciding) {
          own.decided = now();
          own.onPage = own.decided;
        }
        own.client.publish(`weld/${site}/${own.name}/readings`, JSON.stringify(reading), { qos: 1 });
        own.seq += 1;
      }
    }
    await wait(2_000);
    reading.stop();
    await Promise.all(sendings.map(({ client }) => client.endAsync(true)));
    const missed = sendings.filter(({ decided }) => decided !== null).length;
    console.log(`${carriages} carriages at 10 Hz, ${cycles} cycles; ${cpus()[0]?.model ?? 'unknown'} × ${cpus().length}, load ${loadavg().map((own) => own.toFixed(1)).join(' ')}, Node ${process.version}`);
    console.log(`the on-delay is over with the reading ${deciding} after the first one outside; ${early} alarms before it, ${missed} never came\n`);
    console.log(`${'ms from its publish'.padEnd(44)}${'count'.padStart(6)}${'p50'.padStart(8)}${'p95'.padStart(8)}${'p99'.padStart(8)}${'max'.padStart(8)}`);
    print('to the event at a reader of the live feed', toReader);
    if (browser !== null) print('to the floor page saying so', toPage);
  } finally {
    await browser?.close();
    await service.kill('SIGTERM');
    dir.remove();
  }
}

await main();
