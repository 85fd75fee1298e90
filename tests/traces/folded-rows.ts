import { foldItem, settleFold, startFold } from '../../shared/weld/run/carriage-fold.js';
import type { FoldContext } from '../../shared/weld/run/carriage-fold.js';
import type { Item } from '../../shared/weld/items/item.js';
import { orderItem } from '../../shared/weld/items/order.js';
import { defaultWeldSettings } from '../../shared/weld/weld-settings.js';
import { noProcedure, runParameters } from '../../shared/weld/procedure/zone.js';
import type { Stand } from './made-rows.js';
import { unsentValues } from '../unsent.js';
import { startRoom } from '../../shared/weld/rows/row-group.js';
import { namedGroup } from '../named-rows.js';
import type { ArcRow, RunRow } from '../named-rows.js';

const context: FoldContext = {
  settings: defaultWeldSettings,
  assigned: () => true,
  sameRun: () => true,
  parameters: () => runParameters(null, noProcedure),
  epochOf: () => 0,
  sensorsAt: () => -1,
  sensorsOf: () => null,
  turnsBetween: () => null,
  turnLength: () => Infinity,
  nextTurn: (epoch) => epoch,
};

export interface FoldedRows {
  /** Rows of arc 1. */
  readonly arc: ArcRow[];
  readonly arcs: readonly { readonly arc: number; readonly rows: ArcRow[] }[];
  readonly run: RunRow[];
}

/** The rows that the service itself makes of these readings or blocks (of arc 1 if they name none). */
export function foldedRows(items: Iterable<Partial<Item> & { readonly time: number }>): FoldedRows {
  const state = startFold();
  const arcs = new Map<number, ArcRow[]>([[1, []]]);
  const run: RunRow[] = [];
  const sink = {
    room: startRoom(),
    row: (_: unknown, numbers: Float64Array, at: number): void => {
      const group = namedGroup({ rows: numbers, at });
      run.push(group.run);
      for (const { arc, row } of group.arcs) {
        const rows = arcs.get(arc);
        if (rows === undefined) arcs.set(arc, [row]);
        else rows.push(row);
      }
    },
    began: () => undefined,
    finished: () => undefined,
  };
  let seq = 0;
  for (const item of items) {
    const whole: Item = {
      boot: 'b', seq, arc: 1, interval: null, count: 1, current: 0, voltage: 0,
      ...unsentValues, ...item,
    };
    foldItem(state, orderItem(whole, 0, item.time, seq), context, sink);
    seq += 1;
  }
  settleFold(state, context, sink);
  return { arc: arcs.get(1) ?? [], arcs: [...arcs].map(([arc, rows]) => ({ arc, rows })), run };
}

/** Readings as a device sends them. */
export function* asReadings(stands: Iterable<Stand>): Generator<Partial<Item> & { time: number }> {
  for (const stand of stands) yield { time: stand.from, current: stand.current, voltage: stand.voltage, travelSpeed: stand.speed, wireFeedSpeed: stand.feed };
}

/** The same with an encoder's travel (mm, to 0.1 mm) instead of a speed. */
export function* asReadingsWithTravel(stands: Iterable<Stand>): Generator<Partial<Item> & { time: number }> {
  let place = 0;
  for (const stand of stands) {
    yield { time: stand.from, current: stand.current, voltage: stand.voltage, travel: Number(place.toFixed(1)), wireFeedSpeed: stand.feed };
    place += (stand.speed / 60) * ((stand.to - stand.from) / 1e6);
  }
}

/** Blocks of `size` samples; speed and feed are those of the first. */
export function* asBlocks(stands: Iterable<Stand>, size: number): Generator<Partial<Item> & { time: number }> {
  let block: Stand[] = [];
  for (const stand of stands) {
    block.push(stand);
    const [first] = block;
    if (block.length < size || first === undefined) continue;
    yield {
      time: first.from, interval: (first.to - first.from) / 1000, count: size,
      current: block.map((one) => one.current), voltage: block.map((one) => one.voltage), travelSpeed: first.speed, wireFeedSpeed: first.feed,
    };
    block = [];
  }
}
