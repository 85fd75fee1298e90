import { timelineContext, type Timeline } from '../../../shared/weld/run/assignment-timeline.js';
import { foldItem, startFold, type FoldState } from '../../../shared/weld/run/carriage-fold.js';
import type { Item, Values } from '../../../shared/weld/items/item.js';
import { orderItem, type OrderedItem } from '../../../shared/weld/items/order.js';
import { procedureParameters, type ProcedureOutline } from '../../../shared/weld/procedure/procedure-parameters.js';
import { alarmedNames, optionalNames, spreadNames, type SpreadName } from '../../../shared/weld/quantities.js';
import { recordOf } from '../../../shared/weld/rows/record-of.js';
import { startRoom } from '../../../shared/weld/rows/row-group.js';
import { defaultWeldSettings } from '../../../shared/weld/weld-settings.js';
import { noProcedure } from '../../../shared/weld/procedure/zone.js';

/*
 * An invented carriage that, within half a minute, does everything that adds a part to the fold's state: windows on every quantity that are left in
 * both directions, arcs that go out and are lit again in place, with an overlap and elsewhere, readings, blocks and gaps, clocks that step, and no
 * clock at all. tests/ingest/fold-shape.test.ts lists the parts of a state that do not occur here.
 */

const wide = { min: 1, max: 2 };
const alarm = { priority: 'high', response: 'stop', responses: { en: 'stop', zh: '停' } } as const;

function procedure(polarity: string, currentType: string): ProcedureOutline {
  const windows = { current: { min: 500, max: 700 }, voltage: { min: 25, max: 35 }, ...recordOf(spreadNames, () => wide), currentVariation: { max: 0.1 }, voltageVariation: { max: 0.1 } };
  return {
    thermalEfficiency: 1,
    runGroups: [{
      runs: [1, 9], travelSpeed: { min: 500, max: 700 }, heatInput: { min: 1, max: 6 }, t85: { min: 8, max: 40 },
      arcs: [{ arc: 1, currentType: 'DC', polarity, wireDiameter: 4, wires: 1, electrodeExtension: wide, ...windows }, { arc: 2, offset: 2, currentType, ...windows }],
    }],
    alarm: {
      smoothing: 0.2, onDelay: 0.3, offDelay: 0.3, deadband: 0.05, heatInputLength: 4, ignitionTime: 0.2, ignitionLength: 1, craterTime: 0.3,
      windows: recordOf(alarmedNames, () => alarm),
    },
  };
}

const seam = { seam: 'S', run: 1, startOffset: 0, direction: 1, runOn: 2, runOff: 5, seamLength: 200, arcs: [{ arc: 1, wireDiameter: 4, electrodeExtension: 32 }], procedure: 'P', thickness: 20, preheat: 100 } as const;

interface Step {
  /** How often the arcs send something, and at what interval, µs; 0.1 s if it is absent. */
  readonly ticks: number;
  readonly every?: number;
  /** Silence before the first of them, in steps of 0.1 s. */
  readonly hole?: number;
  readonly arcs: readonly (1 | 2)[];
  readonly more?: Partial<Item>;
  /** Added permanently to the clock, µs. */
  readonly clock?: number;
  readonly boot?: string | null;
  /** Index of the assignment from here on. */
  readonly epoch?: number;
}

const spreads = (value: number | null): Pick<Item, SpreadName> => recordOf(spreadNames, () => value);
const welding = { current: 600, voltage: 30, travelSpeed: 600, ...spreads(1.5) };
const dark = { current: 0, voltage: 0, travelSpeed: 600, ...spreads(null) };
const outside = { ...welding, current: 900, voltage: 40, travelSpeed: 300, ...spreads(4) };
const samples = 100;
/** With dips long enough for an extinction or a short circuit, also 0.5 ms apart. */
const dips = (value: number): Values => Array.from({ length: samples }, (_, at) => (at % 50 > 25 ? 0 : value));
const block = { interval: 1, count: samples, current: dips(600), voltage: dips(30), travelSpeed: 600, plateTemperature: dips(20), ...spreads(1.5) };
const short = { ...block, interval: 0.5 };
const encoder = { travelSpeed: null };

const steps: readonly Step[] = [
  // There is no assignment, neither boot nor seq and, at first, no clock.
  { ticks: 2, arcs: [1], boot: null, more: { ...dark, time: null } },
  { ticks: 5, arcs: [1], boot: null, more: welding },
  { ticks: 5, arcs: [1], more: dark },
  // The second arc begins where the heat input of the first was judged, and outside.
  { ticks: 14, every: 200_000, arcs: [1], epoch: 0, more: { ...outside, plateTemperature: 20 } },
  { ticks: 8, arcs: [1, 2], more: welding },
  { ticks: 8, arcs: [1, 2], more: { ...welding, current: 300, voltage: 20, travelSpeed: 1200, ...spreads(0.5) } },
  { ticks: 8, arcs: [1, 2], more: outside },
  { ticks: 8, arcs: [1, 2], more: welding },
  // The second arc sends nothing for a while, and then neither does.
  { ticks: 8, arcs: [1], more: welding },
  { ticks: 7, every: 200_000, arcs: [1, 2], more: { ...welding, current: -600, travelSpeed: 0 } },
  { ticks: 5, every: 200_000, arcs: [1, 2], more: { ...welding, travelSpeed: 0 } },
  { ticks: 6, arcs: [1, 2], more: welding },
  { ticks: 3, arcs: [1, 2], more: welding, hole: 15 },
  { ticks: 3, arcs: [1, 2], more: welding, clock: -5_000_000 },
  { ticks: 2, arcs: [1], more: block },
  { ticks: 3, arcs: [1], more: block, clock: -5_000_000 },
  { ticks: 2, arcs: [1], more: dark, clock: -5_000_000 },
  { ticks: 3, arcs: [1, 2], more: dark },
  { ticks: 6, arcs: [1, 2], more: welding },
  // The clock steps back among the readings that are not yet known to end the arc.
  { ticks: 1, every: 20_000, arcs: [1, 2], more: dark },
  { ticks: 5, every: 20_000, arcs: [1, 2], more: dark, clock: -5_000_000 },
  { ticks: 3, arcs: [1, 2], more: dark },
  { ticks: 6, arcs: [1, 2], more: block, boot: 'c' },
  { ticks: 12, every: 200_000, arcs: [1, 2], more: { ...welding, travelSpeed: 0 } },
  { ticks: 5, arcs: [1, 2], more: outside },
  // The value is back inside, but not for long enough before the crater.
  { ticks: 5, arcs: [1, 2], more: welding },
  { ticks: 5, arcs: [1, 2], more: { ...dark, ...encoder, travel: 100 } },
  { ticks: 6, arcs: [1, 2], more: { ...welding, ...encoder, travel: 90 } },
  { ticks: 5, arcs: [1, 2], more: { ...dark, ...encoder, travel: 91 } },
  { ticks: 6, arcs: [1, 2], more: { ...welding, ...encoder, travel: 900 } },
  { ticks: 4, arcs: [1, 2], more: welding, hole: 15 },
  { ticks: 7, every: 200_000, arcs: [1, 2], more: { ...welding, current: -600 } },
  { ticks: 2, arcs: [1, 2], more: welding },
  { ticks: 5, arcs: [1, 2], more: dark },
  { ticks: 6, arcs: [1, 2], more: welding },
  { ticks: 1, arcs: [1, 2], more: block },
  // The first arc stops and the second sends alone.
  { ticks: 4, every: 50_000, arcs: [2], more: dark },
  { ticks: 30, arcs: [1], more: welding },
  { ticks: 5, arcs: [1, 2], more: dark },
  // The run could be continued, though another has begun without an assignment.
  { ticks: 2, arcs: [1, 2], epoch: 1, more: dark },
  { ticks: 6, every: 50_000, arcs: [1, 2], more: short },
  { ticks: 6, every: 50_000, arcs: [1, 2], epoch: 2, more: short },
  // Fast enough for 100 mm of weld.
  { ticks: 12, arcs: [1, 2], more: { ...welding, travelSpeed: 9000 } },
  { ticks: 4, arcs: [1, 2], epoch: 3, more: welding },
];

/** The states of the fold along an invented weld, after every item; each continues from the one before, in place. */
export function* sampleFold(): Generator<FoldState> {
  const outlines: Readonly<Record<string, ProcedureOutline>> = { P: procedure('EP', 'DC'), Q: procedure('EN', 'AC') };
  const timeline: Timeline = [seam, null, { ...seam, run: 2, procedure: 'Q', motion: 'work', diameter: 100 } as const, { seam: 'S', run: 99 }].map((body) => ({ body, anchor: { after: null } }));
  const context = timelineContext(timeline, defaultWeldSettings, (body) => {
    const outline = outlines[body?.procedure ?? ''];
    return outline === undefined ? noProcedure : procedureParameters(outline, body);
  });
  const state = startFold();
  yield state;
  let epoch = -1;
  const inOrder = { ...context, epochOf: () => epoch };
  const sink = { room: startRoom(), row: () => undefined, began: () => undefined, finished: () => undefined };
  for (const { item, epoch: own } of sampleItems()) {
    epoch = own;
    foldItem(state, item, inOrder, sink);
    yield state;
  }
}

function* sampleItems(): Generator<{ readonly item: OrderedItem; readonly epoch: number }> {
  let [time, clock, seq, rank, epoch, arrival] = [1_000_000_037_000, 0, 0, 0, -1, 0];
  let boot: string | null = 'b';
  for (const step of steps) {
    clock += step.clock ?? 0;
    epoch = step.epoch ?? epoch;
    time += 100_000 * (step.hole ?? 0);
    const named: string | null = step.boot === undefined ? (boot ?? 'b') : step.boot;
    if (named !== boot && arrival > 0) rank += 1;
    boot = named;
    for (let tick = 0; tick < step.ticks; tick += 1) {
      for (const arc of step.arcs) {
        const item: Item = {
          boot, seq: boot === null ? null : seq, time: time + clock, arc, interval: null, count: 1, current: 0, voltage: 0,
          ...recordOf(optionalNames, () => null), ...step.more,
        };
        yield { item: orderItem(item, rank, time, arrival), epoch };
        arrival += 1;
      }
      seq += 1;
      time += step.every ?? 100_000;
    }
  }
}
