import { cloneFold, foldItem, settleFold, type FoldContext, type FoldState } from './carriage-fold.js';
import type { RunSink } from './merge-state.js';
import { comparePositions, type OrderedItem, type Position } from '../items/order.js';
import { startRoom, type RowGroup, type RowRoom } from '../rows/row-group.js';
import type { RunBeginning } from '../temperatures/plate-samples.js';
import { cloneRun, type RunState } from './run-state.js';

/** Items within this time of the newest may still be folded again, µs. */
const provisionalFor = 3_000_000;

/** A row of the run with this ordinal. */
export interface FoldedRow extends RowGroup {
  readonly type: 'row';
  readonly ordinal: number;
}

/** The output of the fold, in order. */
export type FoldOutput =
  | FoldedRow
  | ({ readonly type: 'began'; readonly ordinal: number; readonly epoch: number; readonly sensors: number } & RunBeginning)
  | { readonly type: 'finished'; readonly run: RunState };

interface Stretch {
  /** The state before its items. */
  readonly before: FoldState;
  readonly items: OrderedItem[];
  readonly output: FoldOutput[];
  /** Latest time of an item, µs, after its first item had been folded. */
  began: number | null;
}

/**
 * A fold that accepts items as they arrive: items in order are folded at once, and items that are late by a few seconds are folded again from the
 * last state before them. The result is always that of the items in order.
 */
export interface LiveFold {
  stretches: Stretch[];
  head: FoldState;
  /** The memory for its rows, however few are made at a time. */
  readonly room: RowRoom;
  /** How often the head was folded again; counters within it may then have counted differently. */
  refolds: number;
}

export function startLiveFold(state: FoldState): LiveFold {
  return { stretches: [{ before: cloneFold(state), items: [], output: [], began: null }], head: state, room: startRoom(), refolds: 0 };
}

export function collect(output: FoldOutput[], room = startRoom()): RunSink {
  return {
    room,
    row: (run, rows, at) => output.push({ type: 'row', ordinal: run.ordinal, rows, at }),
    began: ({ ordinal, epoch, start, sensors, before, plate }) => output.push({ type: 'began', ordinal, epoch, start, sensors, before, plate }),
    finished: (run) => output.push({ type: 'finished', run: cloneRun(run) }),
  };
}

/** Adds items (in any order among themselves). Returns those that lie before everything that can be folded again here; they are not in the fold. */
export function addItems(live: LiveFold, items: readonly OrderedItem[], context: FoldContext): OrderedItem[] {
  const sorted = [...items].sort(comparePositions);
  const first = sorted[0];
  if (first === undefined) return [];
  if (live.head.position === null || comparePositions(first, live.head.position) > 0) {
    foldOn(live, sorted, context);
    return [];
  }
  const late: OrderedItem[] = [];
  const usable = sorted.filter((item) => {
    if (isAfterState(item, live.stretches[0]?.before.position ?? null)) return true;
    late.push(item);
    return false;
  });
  const start = usable[0];
  if (start === undefined) return late;
  const at = live.stretches.findLastIndex((stretch) => isAfterState(start, stretch.before.position));
  const stretch = live.stretches[at];
  if (stretch === undefined) return sorted;
  const again = live.stretches.slice(at).flatMap((own) => own.items);
  live.stretches.length = at;
  live.head = cloneFold(stretch.before);
  live.refolds += 1;
  live.stretches.push({ before: stretch.before, items: [], output: [], began: null });
  foldOn(live, [...again, ...usable].sort(comparePositions), context);
  return late;
}

function isAfterState(item: Position, position: Position | null): boolean {
  return position === null || comparePositions(item, position) > 0;
}

function foldOn(live: LiveFold, sorted: readonly OrderedItem[], context: FoldContext): void {
  let stretch = live.stretches.at(-1);
  let sink = stretch === undefined ? null : collect(stretch.output, live.room);
  for (const item of sorted) {
    if (stretch === undefined || sink === null || (stretch.began !== null && (live.head.newest ?? 0) - stretch.began >= provisionalFor)) {
      stretch = { before: cloneFold(live.head), items: [], output: [], began: null };
      live.stretches.push(stretch);
      sink = collect(stretch.output, live.room);
    }
    stretch.items.push(item);
    foldItem(live.head, item, context, sink);
    stretch.began ??= live.head.newest;
  }
}

/** Returns the output that is no longer provisional, and forgets the items behind it. */
export function takeFinal(live: LiveFold): { readonly output: FoldOutput[]; readonly state: FoldState } | null {
  const output: FoldOutput[] = [];
  let taken = 0;
  for (let next = live.stretches[1]; next !== undefined; next = live.stretches[1]) {
    if ((live.head.newest ?? 0) - (next.before.newest ?? 0) < provisionalFor) break;
    output.push(...(live.stretches.shift()?.output ?? []));
    taken += 1;
  }
  const state = live.stretches[0]?.before;
  return taken === 0 || state === undefined ? null : { output, state };
}

/** All provisional output, brought to the present; the fold itself is left as it is. */
export function lookAtPresent(live: LiveFold, context: FoldContext): { readonly output: FoldOutput[]; readonly state: FoldState } {
  const output = live.stretches.flatMap((stretch) => stretch.output);
  const state = cloneFold(live.head);
  settleFold(state, context, collect(output));
  return { output, state };
}
