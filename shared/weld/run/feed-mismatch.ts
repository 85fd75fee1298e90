import type { AlarmCondition } from './alarm-conditions.js';
import type { RunState } from './run-state.js';
import { addWeldEnd, cloneWeldEnds, meansOf, type WeldEnds } from './weld-ends.js';
import { weldShares } from '../judging/weld-shares.js';
import type { Window } from '../procedure/run-windows.js';
import { arcNumber, arcsEnd, arcStride, firstArc } from '../rows/row-group.js';
import type { RunSums } from './run-sums.js';

/** By how much of it the ratio of current to feed may differ from that of the middles of their limits; common practice, no source. */
const tolerance = 0.15;

/** Least and greatest ratio of current to feed, A·min/m, that the limits of both allow for; null where either has an open end. */
export function ratioLimits(current: Window | undefined, feed: Window | undefined): { readonly min: number; readonly max: number } | null {
  const above = middleOf(current);
  const below = middleOf(feed);
  if (above === null || below === null || !(below > 0)) return null;
  const middle = above / below;
  return { min: middle * (1 - tolerance), max: middle * (1 + tolerance) };
}

function middleOf(window: Window | undefined): number | null {
  return window?.min === undefined || window.max === undefined ? null : (window.min + window.max) / 2;
}

/**
 * The conditions for an arc whose current does not go with its feed over the first 100 mm of its weld zone: wrong wire, slipping rolls, wrong polarity
 * or extension. Each stands from when these 100 mm are known until the run is over. Only rows that no crater can reach any more count, so that only
 * late items can take one back.
 */
export function mismatchConditions(run: RunState, finished: boolean): AlarmCondition[] {
  const { sums } = run;
  const arcs = sums.parameters.windows?.arcs ?? {};
  const ends = finished ? endsOfAll(sums) : sums.weldEnds;
  return Object.entries(ends).flatMap(([number, { first, from, complete }]) => {
    const arc = Number(number);
    const limits = ratioLimits(arcs[arc]?.current, arcs[arc]?.wireFeedSpeed);
    const { current, feed } = meansOf(first);
    if (limits === null || complete === null || feed === null || !(feed > 0)) return [];
    const ratio = current / feed;
    const limit = ratio > limits.max ? limits.max : ratio < limits.min ? limits.min : null;
    if (limit === null) return [];
    const to = finished ? { time: run.lastOn, travelled: sums.travelled } : null;
    return [{ arc, quantity: 'feedMismatch', limit, worst: ratio, from, raised: complete, to, lostTo: null, suppressed: false }];
  });
}

/** How many arcs have welded their first 100 mm: each may have raised a condition. */
export function completeEnds({ weldEnds }: Pick<RunSums, 'weldEnds'>): number {
  let complete = 0;
  for (const arc in weldEnds) if (weldEnds[arc]?.complete !== null) complete += 1;
  return complete;
}

/** Of a run that is over no row waits any more. */
function endsOfAll({ weldEnds, waiting }: Pick<RunSums, 'weldEnds' | 'waiting'>): Record<number, WeldEnds> {
  const ends = cloneWeldEnds(weldEnds);
  for (const row of waiting) {
    const { arcShares } = weldShares(row);
    const end = arcsEnd(row.rows, row.at);
    for (let own = firstArc(row.at); own < end; own += arcStride) {
      const arc = arcNumber(row.rows, own);
      const share = arcShares[arc] ?? 0;
      if (share > 0) addWeldEnd(ends, arc, row, own, share);
    }
  }
  return ends;
}
