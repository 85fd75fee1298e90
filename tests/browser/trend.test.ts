import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Trace } from '../../shared/api-types/trace.js';
import { newTrend, addToTrend, trendSpan, trendSteps, trendStretches } from '../../dashboards/floor/trend.js';
import { atVoltage, madeCarriage } from './made-carriages.js';
import { ofTandem } from './made-floor.js';
import { hasBrowser } from './open-browser.js';
import { useFakeService } from './use-fake-service.js';
import { unsentTrace } from '../unsent.js';

const step = trendSpan / trendSteps;
const start = 1_795_590_000_000;

describe('the newest minutes of a value', () => {
  it('keep what a plain list of all values gives, whatever their order, over silences longer than they are', () => {
    const event = fc.record({ ahead: fc.oneof({ weight: 9, arbitrary: fc.integer({ min: -40_000, max: 20_000 }) }, fc.integer({ min: 0, max: 900_000 })), value: fc.integer({ min: -50, max: 50 }) });
    fc.assert(
      fc.property(fc.array(event, { minLength: 1, maxLength: 400 }), fc.integer({ min: 0, max: 700_000 }), (events, later) => {
        const trend = newTrend();
        const steps = new Map<number, number[]>();
        let now = start;
        let newest = Number.NEGATIVE_INFINITY;
        for (const { ahead, value } of events) {
          now += ahead;
          addToTrend(trend, now, value, value);
          const number = Math.floor(now / step);
          // What comes later than the span is over is left out.
          if (number > newest - trendSteps) steps.set(number, [...(steps.get(number) ?? []), value]);
          newest = Math.max(newest, number);
        }
        const last = Math.floor(Math.max(now, newest * step) / step) + Math.floor(later / step);
        const expected = [...steps].filter(([number]) => number > last - trendSteps && number <= last && number > newest - trendSteps).sort(([a], [b]) => a - b);
        const found = trendStretches(trend, last * step).flat();
        expect(found).toEqual(expected.map(([number, values]) => ({ at: number - last + trendSteps - 1, least: Math.min(...values), greatest: Math.max(...values) })));
        expect(trend.least.length + trend.greatest.length).toBe(2 * trendSteps);
      }),
    );
  });

  it('are parted where nothing was measured', () => {
    const trend = newTrend();
    for (const at of [0, 1, 2, 5, 6]) addToTrend(trend, start + at * step, 30 + at, 31 + at);
    const stretches = trendStretches(trend, start + 7 * step);
    expect(stretches.map((stretch) => stretch.map(({ least }) => least))).toEqual([[30, 31, 32], [35, 36]]);
    // Seen later all of it has moved out.
    expect(trendStretches(trend, start + 7 * step + trendSpan)).toEqual([]);
  });
});

describe.skipIf(!hasBrowser)('the trends of a tile', () => {
  const { service, newPage, openAt } = useFakeService();

  it('begin with the trace of the run, go on with the feed, and say in words what they draw', async () => {
    const began = Date.now() - 200_000;
    // A trace as the service answers it, 100 s of one arc a minute ago: means of 35 V; single samples of 36 V at most, 30 V at least, are not drawn.
    const at = Array.from({ length: 100 }, (_, second) => second);
    const level = (value: number): number[] => at.map(() => value);
    service.trace({
      axis: 'time', unit: 's', rows: 1000, zones: [],
      arcs: [{ arc: 1, at, current: level(612), currentMin: level(600), currentMax: level(620), voltage: level(35), voltageMin: level(30), voltageMax: level(36), travelSpeed: level(520), ...unsentTrace(at.length), wireFeedSpeed: level(1.2), heatInput: level(2.2), plateTemperature: at.map(() => null) }],
    });
    service.tell(madeCarriage('c1', { ...atVoltage(31.2), runStartedAt: new Date(began).toISOString(), clockOffset: 0 }));
    const { page, complaints } = await newPage();
    const asked = page.waitForRequest('**/trace?*');
    await page.goto(`${service.http}/#/`);
    const query = new URL((await asked).url()).searchParams;
    expect([query.get('axis'), query.get('points')]).toEqual(['time', String(trendSpan / 1000)]);
    const voltage = page.getByRole('img', { name: /^Voltage in the last 5 min/ });
    await expect.poll(async () => (await voltage.getAttribute('aria-label'))?.replaceAll('\u00a0', ' ')).toBe('Voltage in the last 5 min: 31.2 V to 35.0 V; limits min 30.0 V, max 34.0 V');
    // The trace ends 100 s ago and the feed begins now: two lines with nothing between them.
    expect(((await voltage.locator('.trend-values').getAttribute('d')) ?? '').split('M').length - 1).toBe(2);
    expect(await voltage.locator('.trend-limit').count()).toBe(2);
    // What is out lies beyond the line of the limit and is thicker, so that it needs no colour.
    const wide = async (name: string): Promise<number> => await voltage.locator(name).evaluate((own) => parseFloat(getComputedStyle(own).strokeWidth));
    expect(await wide('.trend-out')).toBeGreaterThan(2 * (await wide('.trend-values')));
    // 100 s are 50 steps of 2 s, or 51 where they begin within one, and all are out; those of the arc start and of the crater, which are not judged for 2 s each and so lie in two steps at most, are drawn as what they are and no more.
    expect([46, 47]).toContain(((await voltage.locator('.trend-out').getAttribute('d')) ?? '').split('M').length - 1);
    // Heat input is judged along the seam; only the feed tells it, once.
    await page.getByRole('img', { name: /^Heat input in the last 5 min: 2\.210/ }).waitFor();
    expect(complaints).toEqual([]);
  });

  it('draw nothing of an arc that is out while the other one burns', async () => {
    const began = Date.now() - 60_000;
    // The second arc of a tandem is struck 10 s after the first and goes out 10 s after it: until then, and from then on, the other one has values and this one has none.
    const at = Array.from({ length: 40 }, (_, second) => second);
    const burning = (from: number, to: number, value: number): number[] => at.map((second) => (second >= from && second < to ? value : 0));
    const ofArc = (arc: number, from: number, to: number, amperes: number, volts: number): Trace['arcs'][number] => {
      const current = burning(from, to, amperes);
      const voltage = burning(from, to, volts);
      const none = at.map(() => null);
      return { arc, at, current, currentMin: current, currentMax: current, voltage, voltageMin: voltage, voltageMax: voltage, travelSpeed: at.map(() => 1160), ...unsentTrace(at.length), heatInput: none, plateTemperature: none };
    };
    service.trace({ axis: 'time', unit: 's', rows: 400, zones: [], arcs: [ofArc(1, 0, 30, 1000, 32), ofArc(2, 10, 40, 740, 35)] });
    service.tell(madeCarriage('c1', { ...ofTandem, runStartedAt: new Date(began).toISOString(), clockOffset: 0 }));
    const { page } = await openAt('');
    for (const [arc, least, greatest] of [[1, 1000, 1004], [2, 740, 749]] as const) {
      const trend = page.getByRole('img', { name: new RegExp(`^Current of arc ${arc} in the last 5 min`) });
      await expect.poll(async () => (await trend.getAttribute('aria-label'))?.replaceAll('\u00a0', ' ')).toContain(`: ${least} A to ${greatest} A; limits`);
      expect(await trend.locator('.trend-out').count()).toBe(0);
    }
  });

  it('draw the RMS values of an alternating arc, and not the crests of its waves as out of limits', async () => {
    const began = Date.now() - 60_000;
    const at = Array.from({ length: 40 }, (_, second) => second);
    const level = (value: number): number[] => at.map(() => value);
    const none = at.map(() => null);
    // Sines of 740 A and 35 V RMS.
    const alternating: Trace['arcs'][number] = {
      arc: 2, at, current: level(740), currentMin: level(-1046.5), currentMax: level(1046.5), voltage: level(35), voltageMin: level(-49.5), voltageMax: level(49.5),
      travelSpeed: level(1160), ...unsentTrace(at.length), heatInput: none, plateTemperature: none,
    };
    service.trace({ axis: 'time', unit: 's', rows: 400, zones: [], arcs: [alternating] });
    service.tell(madeCarriage('c1', { ...ofTandem, runStartedAt: new Date(began).toISOString(), clockOffset: 0 }));
    const { page } = await openAt('');
    const trend = page.getByRole('img', { name: /^Current of arc 2 in the last 5 min/ });
    await expect.poll(async () => (await trend.getAttribute('aria-label'))?.replaceAll('\u00a0', ' ')).toContain(': 740 A to 749 A; limits');
    expect(await trend.locator('.trend-out').count()).toBe(0);
  });
});
