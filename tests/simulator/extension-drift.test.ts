import { describe, expect, test } from 'vitest';
import type { ArcTruth } from '../../services/simulator/arc.js';
import { planScenario } from '../../services/simulator/scenarios.js';
import type { Item } from '../../shared/weld/items/item.js';
import { mean, playPlan, reading, readings, type PlayedRun } from './played-run.js';

/**
 * Wilson, Claussen and Jackson 1956, from memory: lb/min melted at `current` A with an extension of `length` mm by a wire of `diameter` mm.
 * Written out here on its own, so that the simulator's own formula is not its own witness.
 */
function melted(current: number, length: number, diameter: number): number {
  const d = diameter / 25.4;
  const L = length / 25.4;
  return (current / 1000) * (0.35 + d * d + 2.08e-7 * Math.pow((current * L) / (d * d), 1.22));
}

/** lb/min of wire that is fed at `feed` m/min: 7850 kg/m³, 1 lb = 0.45359237 kg. */
function fed(feed: number, diameter: number): number {
  return ((Math.PI / 4) * (diameter / 1000) ** 2 * feed * 7850) / 0.45359237;
}

/** The extension in mm at which `current` melts `share` of what the equation says it does, as fast as it is fed; by halving. */
function extensionFor(share: number, current: number, feed: number, diameter: number): number {
  let [low, high] = [1, 200];
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (share * melted(current, middle, diameter) < fed(feed, diameter)) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

const diameter = 4;
const declared = 32;

function steps(run: PlayedRun, from: number, to: number): ArcTruth[] {
  return run.truth.filter(({ travel }) => travel >= from && travel < to).flatMap(({ arcs }) => arcs.filter(({ arc }) => arc === 1));
}

function drifted(seed: number, cycle: number): { run: PlayedRun; by: number; from: number; to: number; end: number } {
  const run = playPlan(planScenario('extension', seed), cycle, { ...readings, seed });
  const { event, seam } = run.script;
  if (event.kind !== 'extensionDrift') throw new Error(`the run is ${event.kind}`);
  return { run, by: event.by, from: event.from, to: event.to, end: seam.travel };
}

describe('an electrode extension that grows during the run', () => {
  test('is known in mm over the run: as declared, evenly longer, then longer by what the script says', () => {
    const { run, by, from, to, end } = drifted(1, 0);
    const assignment = JSON.parse(run.assignment.payload) as { arcs: { electrodeExtension: number; wireDiameter: number }[] };
    expect(assignment.arcs[0]).toMatchObject({ electrodeExtension: declared, wireDiameter: diameter });
    const extension = (least: number, most: number): number => mean(steps(run, least, most).map((own) => own.extension));
    // It fluctuates by 0.8 mm with 3 s of memory: a mean over 10 s or more is good to 0.6 mm; three times that.
    expect(Math.abs(extension(50, from) - declared)).toBeLessThan(1.8);
    expect(Math.abs(extension(to, end) - declared - by)).toBeLessThan(1.8);
    const half = (from + to) / 2;
    expect(Math.abs(extension(half - 50, half + 50) - declared - by / 2)).toBeLessThan(1.8);
    expect(by).toBeGreaterThanOrEqual(10);
  });

  test('follows from the current at the feed of the moment by the melting-rate equation', () => {
    const { run, end } = drifted(2, 1);
    const burning = steps(run, 60, end - 60);
    expect(burning.length).toBeGreaterThan(900);
    for (const { current, extension, wireFeedSpeed } of burning) {
      expect(Math.abs(melted(current, extension, diameter) / fed(wireFeedSpeed, diameter) - 1)).toBeLessThan(1e-6);
    }
  });

  test('is found again from readings of current and feed over the first and the last 100 mm', () => {
    const errors = [1, 2, 3, 4, 5, 6, 7, 8].map((seed) => {
      const { run, by, end } = drifted(seed, 0);
      const places = { first: [50, 150], last: [end - 150, end - 50] } as const;
      const sent = (place: 'first' | 'last', name: 'current' | 'wireFeedSpeed'): number => {
        const [least, most] = places[place];
        return mean(run.items.filter((item: Item) => reading(item, 'travel') >= least && reading(item, 'travel') < most && reading(item, 'current') > 100).map((item) => reading(item, name)));
      };
      const truth = (place: 'first' | 'last'): number => mean(steps(run, places[place][0], places[place][1]).map((own) => own.extension));
      const share = fed(sent('first', 'wireFeedSpeed'), diameter) / melted(sent('first', 'current'), declared, diameter);
      const found = extensionFor(share, sent('last', 'current'), sent('last', 'wireFeedSpeed'), diameter) - declared;
      // Less current at the same feed.
      expect(sent('last', 'current')).toBeLessThan(sent('first', 'current') - 20);
      expect(Math.abs(sent('last', 'wireFeedSpeed') / sent('first', 'wireFeedSpeed') - 1)).toBeLessThan(0.005);
      expect(Math.abs(found - by)).toBeLessThan(3);
      return found - (truth('last') - truth('first'));
    });
    // The mean current over 100 mm is good to 0.8 A, which is 0.3 mm; twice that in the difference of two, five times over.
    for (const error of errors) expect(Math.abs(error)).toBeLessThan(2);
    expect(Math.abs(mean(errors))).toBeLessThan(0.7);
  });

  test('the equation gives the worked drift of 4 mm wire at 1.2 m/min: 600 A, then 585 A', () => {
    // Worked apart from this program: share 0.997017, 5.642059 mm longer.
    const share = fed(1.2, diameter) / melted(600, declared, diameter);
    expect(share).toBeCloseTo(0.997017, 6);
    expect(extensionFor(share, 585, 1.2, diameter) - declared).toBeCloseTo(5.642059, 5);
  });
});
