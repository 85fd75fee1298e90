import fc from 'fast-check';
import { expect, test } from 'vitest';
import { scenarioNames } from '../../services/simulator/scenarios.js';
import type { Simulation } from '../../services/simulator/play-simulation.js';
import type { SimulatedMessage } from '../../services/simulator/simulated-carriage.js';
import { start } from './played-run.js';
import { simulatedMessages } from './simulated-messages.js';

function first(count: number, simulation: Simulation): SimulatedMessage[] {
  const messages: SimulatedMessage[] = [];
  for (const message of simulatedMessages(simulation)) {
    messages.push(message);
    if (messages.length === count) break;
  }
  return messages;
}

const blocks = fc.option(fc.integer({ min: 10, max: 1000 }));
const simulations = fc.record({
  carriages: fc.integer({ min: 1, max: 12 }),
  scenarios: fc.uniqueArray(fc.record({ scenario: fc.constantFrom(...scenarioNames), block: blocks }), { selector: ({ scenario }) => scenario }),
  rate: fc.double({ min: 1, max: 100, noNaN: true }),
  block: blocks,
  seed: fc.nat({ max: 4294967295 }),
  start: fc.integer({ min: 0, max: Date.UTC(2100, 0, 1) }),
});

test('the same simulation gives the same bytes, in the order of their sending', () => {
  fc.assert(
    fc.property(simulations, (simulation) => {
      const once = first(300, simulation);
      expect(first(300, simulation)).toEqual(once);
      once.slice(1).forEach((message, place) => {
        expect(message.at).toBeGreaterThanOrEqual(once[place]?.at ?? 0);
      });
    }),
    { numRuns: 30 },
  );
});

test('another seed gives other bytes', () => {
  const simulation = { carriages: 3, scenarios: [], rate: 10, block: null, seed: 1, start };
  expect(first(500, { ...simulation, seed: 2 })).not.toEqual(first(500, simulation));
});

test('a carriage does the same however many others there are', () => {
  const simulation = { carriages: 1, scenarios: [], rate: 10, block: null, seed: 5, start };
  const alone = first(900, simulation).map((message) => message.payload);
  const among = first(5000, { ...simulation, carriages: 5 })
    .filter((message) => message.topic.startsWith('weld/hall-a/c1/'))
    .map((message) => message.payload);
  expect(among.length).toBeGreaterThan(500);
  expect(among.slice(0, 500)).toEqual(alone.slice(0, 500));
});

test('another start moves times and boot and nothing else', () => {
  const simulation = { carriages: 2, scenarios: [], rate: 10, block: null, seed: 1, start };
  const read = (message: SimulatedMessage, later: number): string =>
    message.payload.replaceAll(/"(time|at)":(\d+)/g, (_, name: string, time: string) => `"${name}":${String(Number(time) - later)}`).replaceAll(/"boot":"[^"]*"/g, '');
  const moved = first(800, { ...simulation, start: start + 86_400_000 });
  expect(moved.map((message) => read(message, 86_400_000))).toEqual(first(800, simulation).map((message) => read(message, 0)));
});

test('one tandem among them: its arcs travel in one message with one seq and one time', () => {
  const messages = first(4000, { carriages: 4, scenarios: [], rate: 10, block: null, seed: 1, start });
  const arrays = messages.filter((message) => message.payload.startsWith('['));
  expect(new Set(arrays.map((message) => message.topic))).toEqual(new Set(['weld/hall-a/c2/readings']));
  for (const message of arrays) {
    const items = JSON.parse(message.payload) as { arc: number; seq: number; time: number }[];
    expect(items.map((item) => item.arc)).toEqual([1, 2]);
    expect(new Set(items.map((item) => `${String(item.seq)} ${String(item.time)}`)).size).toBe(1);
  }
});

test('the device clock is off by a constant', () => {
  for (const block of [null, 250]) {
    const offsets = first(3000, { carriages: 3, scenarios: [], rate: 30, block, seed: 9, start })
      .filter((message) => message.topic.endsWith('/c3/readings'))
      .map((message) => (JSON.parse(message.payload) as { time: number }).time - start - message.at + (block ?? 0));
    expect(offsets.length).toBeGreaterThan(100);
    expect(Math.max(...offsets) - Math.min(...offsets)).toBeLessThanOrEqual(0.002);
  }
});
