import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { timelineContext } from '../../shared/weld/assignment-timeline.js';
import type { FoldContext } from '../../shared/weld/carriage-fold.js';
import { cloneFold, foldItem, settleFold, startFold } from '../../shared/weld/carriage-fold.js';
import type { FoldOutput } from '../../shared/weld/live-fold.js';
import { addItems, collect, lookAtPresent, startLiveFold, takeFinal } from '../../shared/weld/live-fold.js';
import { comparePositions } from '../../shared/weld/order.js';
import type { OrderedItem } from '../../shared/weld/order.js';
import { arrange } from '../../shared/weld/replay.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { noProcedure } from '../../shared/weld/zone.js';
import { randomRun } from '../model/random-run.js';

/** Everything that came out, as text: rows, beginnings and ends. */
function told(output: readonly FoldOutput[], context: FoldContext, state: ReturnType<typeof startFold>): string {
  return JSON.stringify({ output, open: state.merge.run, assigned: context.assigned(state.epoch) });
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

describe('the live fold', () => {
  it('gives to the last bit what the items in order give, however they came', { timeout: 300_000 }, () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 100_000 }),
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 40 }),
        fc.integer({ min: 0, max: 60 }),
        fc.integer({ min: 1, max: 25 }),
        (seed, moves, reach, batch) => {
          const { items, timeline } = arrange(randomRun(seed, { open: false }).events);
          const context = timelineContext(timeline, defaultWeldSettings, () => noProcedure);
          const arriving = jostle(items, moves, reach);
          let live = startLiveFold(startFold());
          let kept: FoldOutput[] = [];
          const have: OrderedItem[] = [];
          for (let at = 0; at < arriving.length; at += batch) {
            const some = arriving.slice(at, at + batch);
            have.push(...some);
            const late = addItems(live, some, context);
            if (late.length > 0) {
              // Too far back for the live fold: it is started again from what is stored, as ingest does.
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
      { numRuns: Number(process.env['LIVE_RUNS'] ?? 60) },
    );
  });

  it('leaves the state alone when the present is looked at', () => {
    const { items, timeline } = arrange(randomRun(7, { open: false }).events);
    const context = timelineContext(timeline, defaultWeldSettings, () => noProcedure);
    const live = startLiveFold(startFold());
    for (const item of items) {
      addItems(live, [item], context);
      const before = JSON.stringify(cloneFold(live.head));
      lookAtPresent(live, context);
      expect(JSON.stringify(live.head)).toBe(before);
    }
  });
});
