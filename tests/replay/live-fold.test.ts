import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countFrom } from '../counts.js';
import { timelineContext } from '../../shared/weld/run/assignment-timeline.js';
import type { FoldContext } from '../../shared/weld/run/carriage-fold.js';
import { cloneFold, foldItem, settleFold, startFold } from '../../shared/weld/run/carriage-fold.js';
import type { FoldOutput } from '../../shared/weld/run/live-fold.js';
import { addItems, collect, lookAtPresent, startLiveFold, takeFinal } from '../../shared/weld/run/live-fold.js';
import { comparePositions } from '../../shared/weld/items/order.js';
import type { OrderedItem } from '../../shared/weld/items/order.js';
import { alarmConditions } from '../../shared/weld/run/alarm-conditions.js';
import { arrange, figuresOf } from './replay.js';
import type { RunState } from '../../shared/weld/run/run-state.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { noProcedure } from '../../shared/weld/procedure/zone.js';
import { randomRun } from '../model/random-run.js';
import { rowsByName } from '../named-rows.js';

/** The identity of a run, however its state stores that. */
function faceOf(run: RunState | null): unknown {
  if (run === null) return null;
  return { ...run, sums: null, ...figuresOf(run, null), alarms: alarmConditions(run, run.finished) };
}

/** The whole output as text: rows, beginnings and ends. */
function told(output: readonly FoldOutput[], context: FoldContext, state: ReturnType<typeof startFold>): string {
  const faces = output.map((own) => (own.type === 'finished' ? { ...own, run: faceOf(own.run) } : own));
  return JSON.stringify({ output: faces, open: faceOf(state.merge.run), assigned: context.assigned(state.epoch) }, rowsByName);
}

function plainFold(items: readonly OrderedItem[], context: FoldContext): string {
  const state = startFold();
  const output: FoldOutput[] = [];
  for (const item of items) foldItem(state, item, context, collect(output));
  settleFold(state, context, collect(output));
  return told(output, context, state);
}

/** Moves each item back by up to `reach` places. */
function jostle(items: readonly OrderedItem[], moves: readonly number[], reach: number): OrderedItem[] {
  return items
    .map((item, at) => ({ item, at: at + (moves[at % moves.length] ?? 0) * reach }))
    .sort((a, b) => a.at - b.at)
    .map(({ item }) => item);
}

/** Values that look ahead are judged again if a late item changes what they look at. */
const arcWindows = { current: { min: 560, max: 640 }, voltage: { min: 29, max: 33 }, wireFeedSpeed: { min: 1 }, currentVariation: { max: 0.05 } };
const judged = {
  ...noProcedure,
  windows: { arcs: { 1: arcWindows, 2: arcWindows }, run: { travelSpeed: { min: 450, max: 650 }, heatInput: { min: 1.6, max: 2.2 } }, smoothing: 1e6, onDelay: 5e5, offDelay: 1e6, deadband: 0.05, heatInputLength: 50 },
};

describe('the live fold', () => {
  it.each([['without windows', noProcedure], ['against windows', judged]])('gives to the last bit what the items in order give, however they came, %s', { timeout: 300_000 }, (_, procedure) => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 100_000 }),
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 40 }),
        fc.integer({ min: 0, max: 60 }),
        fc.integer({ min: 1, max: 25 }),
        (seed, moves, reach, batch) => {
          const { items, timeline } = arrange(randomRun(seed, { open: false }).events);
          const context = timelineContext(timeline, defaultWeldSettings, () => procedure);
          const arriving = jostle(items, moves, reach);
          let live = startLiveFold(startFold());
          let kept: FoldOutput[] = [];
          const have: OrderedItem[] = [];
          for (let at = 0; at < arriving.length; at += batch) {
            const some = arriving.slice(at, at + batch);
            have.push(...some);
            const late = addItems(live, some, context);
            if (late.length > 0) {
              // This item is too far back for the live fold, which is started again from the stored items, as ingest does.
              live = startLiveFold(startFold());
              kept = [];
              addItems(live, [...have].sort(comparePositions), context);
            }
            kept.push(...(takeFinal(live)?.output ?? []));
          }
          const look = lookAtPresent(live, context);
          expect(told([...kept, ...look.output], context, look.state)).toBe(plainFold(items, context));
        },
      ),
      { numRuns: countFrom('LIVE_RUNS', { soon: 15, full: 150 }) },
    );
  });

  it('leaves the state unchanged when the present is judged', () => {
    const { items, timeline } = arrange(randomRun(7, { open: false }).events);
    const context = timelineContext(timeline, defaultWeldSettings, () => noProcedure);
    const live = startLiveFold(startFold());
    for (const item of items) {
      addItems(live, [item], context);
      const before = JSON.stringify(cloneFold(live.head), rowsByName);
      lookAtPresent(live, context);
      expect(JSON.stringify(live.head, rowsByName)).toBe(before);
    }
  });
});
