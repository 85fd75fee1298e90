import { setTimeout as wait } from 'node:timers/promises';
import type { CDPSession } from 'playwright-core';
import type { FakeService } from './fake-service.js';
import { fakeService } from './fake-service.js';
import { atVoltage, madeAlarm, madeCarriage } from './made-carriages.js';
import { openBrowser, openPage } from './open-browser.js';

export interface Sample {
  /** s of the time that is played. */
  readonly at: number;
  readonly heap: number;
  readonly nodes: number;
  readonly listeners: number;
  readonly events: number;
}

export interface HourSettings {
  /** s of the floor's time that are played. */
  readonly seconds: number;
  /** How much faster than a clock events come. */
  readonly speed: number;
  readonly carriages: number;
  /** Events of a carriage in a second of its time. */
  readonly rate: number;
  readonly samples: number;
  readonly told: (sample: Sample) => void;
}

/**
 * Plays carriages at work into the floor page: values with every event, now and then an excursion that raises an alarm, is acknowledged and
 * returns, runs that end and begin. After each part the heap is sampled behind a forced collection.
 */
export async function playFloor({ seconds, speed, carriages, rate, samples, told }: HourSettings): Promise<readonly Sample[]> {
  const service = fakeService({ check: false, live: false });
  await service.start();
  const browser = await openBrowser();
  try {
    const player = playerOf(service, carriages);
    player.round(0);
    const { page, complaints } = await openPage(browser, { viewport: { width: 1920, height: 1080 } });
    await page.goto(`${service.http}/#/`);
    await page.locator('[data-carriage]').nth(Math.min(carriages, 40) - 1).waitFor();
    const session = await page.context().newCDPSession(page);
    const found: Sample[] = [];
    const rounds = seconds * rate;
    const begun = Date.now();
    let next = 0;
    for (let round = 1; round <= rounds; round += 1) {
      player.round(round / rate);
      const due = begun + ((round / rate) * 1000) / speed;
      if (due > Date.now()) await wait(due - Date.now());
      if (round / rounds < next) continue;
      next += 1 / samples;
      const sample = { at: round / rate, ...(await sampleOf(session)), events: player.events() };
      found.push(sample);
      told(sample);
    }
    if (complaints.length > 0) throw new Error(`the page complained: ${complaints.join('; ')}`);
    const shown = await page.locator('[data-carriage]').count();
    if (shown === 0) throw new Error('the page shows no carriage at the end');
    return found;
  } finally {
    await browser.close();
    await service.stop();
  }
}

function playerOf(service: FakeService, carriages: number): { readonly round: (at: number) => void; readonly events: () => number } {
  let events = 0;
  const carriageAt = (number: number, at: number): void => {
    const name = `c${number}`;
    // Each carriage has its own cycle of 100 s: 60 s of welding, an excursion in the middle of it, 20 s dark.
    const phase = (at + number * 7) % 100;
    const cycle = Math.floor((at + number * 7) / 100);
    const out = phase > 30 && phase < 45 && number % 5 === 0;
    const alarm = madeAlarm(name, { id: `${name}-${cycle}`, state: phase > 38 ? 'acknowledged' : 'unacknowledged' });
    const noise = Math.sin(at * 3 + number);
    const travelled = phase * 8.6;
    service.tell(
      madeCarriage(name, {
        ...atVoltage((out ? 35 : 31.5) + noise * 0.3),
        welding: phase < 80,
        run: phase < 80 ? `run-${name}-${cycle}` : null,
        assignment: { seam: `S-${number}-${cycle}`, run: 1 + (cycle % 4), procedure: 'SA-12', seamLength: 700, operator: 'op-07' },
        travelled,
        seamPosition: travelled,
        travelSpeed: 520 + noise * 8,
        localHeatInput: 2.2 + noise * 0.05,
        alarms: out ? [alarm] : [],
        outlook: phase < 80 ? { lengthToGo: 700 - travelled, endsAt: new Date(Date.now() + 60_000).toISOString(), wire: [], absent: {} } : null,
        drift: phase > 20 && phase < 30 && number % 7 === 0 ? [{ arc: 1, quantity: 'voltage', limit: 34, leavesIn: 31 - phase, leavesAfter: null }] : [],
      }),
    );
    events += 1;
    if (out && Math.abs(phase - 31) < 0.11) {
      service.tellAlarm(alarm);
      events += 1;
    }
  };
  return {
    round: (at) => {
      for (let number = 1; number <= carriages; number += 1) carriageAt(number, at);
    },
    events: () => events,
  };
}

async function sampleOf(session: CDPSession): Promise<{ readonly heap: number; readonly nodes: number; readonly listeners: number }> {
  await session.send('HeapProfiler.enable');
  // Twice: what was freed by the first may free more.
  await session.send('HeapProfiler.collectGarbage');
  await session.send('HeapProfiler.collectGarbage');
  const { usedSize } = await session.send('Runtime.getHeapUsage');
  const { nodes, jsEventListeners } = await session.send('Memory.getDOMCounters');
  await session.send('HeapProfiler.disable');
  return { heap: usedSize, nodes, listeners: jsEventListeners };
}

/**
 * Growth of what is held in the last third over the second third, as a share; the first third is warming up. What is held is the least that
 * was seen: what an event just brought comes on top, a quarter of the heap and more, in some thirds in half of the samples.
 */
export function growthOf(values: readonly number[]): number {
  const third = Math.floor(values.length / 3);
  const before = Math.min(...values.slice(third, 2 * third));
  return (Math.min(...values.slice(2 * third)) - before) / before;
}
