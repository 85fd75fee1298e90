import { arcRowFlags, rowLength } from '../../shared/weld/rows/row.js';
import { uncorrected, unsentColumns } from '../unsent.js';
import type { ArcRow, RunRow } from '../named-rows.js';

/** One value that applies over [from, to) in µs: A, V, mm/min, m/min. */
export interface Stand {
  readonly from: number;
  readonly to: number;
  readonly current: number;
  readonly voltage: number;
  readonly speed: number;
  readonly feed: number;
}

/** Repeatable numbers from 0 to 1 (mulberry32, a public-domain generator). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

const decimal = (value: number, places: number): number => Number(value.toFixed(places));

/** Readings of a steady weld with noise: 600 A ± 8 A to 0.1 A, 30 V ± 0.5 V to 0.1 V, 550 mm/min ± 3, 1.21 m/min ± 0.02 to 0.01. */
export function* madeStands(options: { count: number; start: number; interval: number; jitter: number; seed: number; sentEvery?: number }): Generator<Stand> {
  const random = seeded(options.seed);
  const spread = (width: number): number => (2 * random() - 1) * width;
  const timeOf = (n: number): number => options.start + n * options.interval + 1000 * Math.floor(random() * (options.jitter + 1));
  let from = timeOf(0);
  let speed = 550;
  let feed = 1.21;
  for (let n = 0; n < options.count; n += 1) {
    if (n % (options.sentEvery ?? 1) === 0) {
      speed = decimal(550 + spread(3), 0);
      feed = decimal(1.21 + spread(0.02), 2);
    }
    const to = timeOf(n + 1);
    yield { from, to, current: decimal(600 + spread(8), 1), voltage: decimal(30 + spread(0.5), 1), speed, feed };
    from = to;
  }
}

type Open<T> = { -readonly [K in keyof T]: T[K] };

function openRows(index: number, from: number, travelled: number, flags: number): { arc: Open<ArcRow>; run: Open<RunRow>; feed: number } {
  return {
    feed: 0,
    arc: {
      index, from, covered: 0, on: 0, gap: 0, samples: 0, current: 0, voltage: 0, energy: 0, currentSquared: 0, voltageSquared: 0,
      minCurrent: Infinity, maxCurrent: -Infinity, minVoltage: Infinity, maxVoltage: -Infinity, length: 0, travelled,
      ...unsentColumns, ...uncorrected, positiveTime: 0, wireFeedSpeed: NaN, feedTime: 0, feedSquared: 0, minFeed: Infinity, maxFeed: -Infinity, plateTemperature: NaN, extinctions: NaN, shortCircuits: NaN, flags,
    },
    run: {
      index, from, on: 0, gap: 0, length: 0, gapLength: 0, travelled, advance: 0, speedTime: 0, speed: 0, speedSquared: 0,
      minSpeed: Infinity, maxSpeed: -Infinity, travelSpeed: NaN, flags: 0,
    },
  };
}

/** Sums values into rows of 100 ms in the order and with the rounding of the service's own rows. */
export function* madeRows(stands: Iterable<Stand>, flags: number = arcRowFlags.slow | arcRowFlags.burning): Generator<{ arc: ArcRow; run: RunRow }> {
  let open: ReturnType<typeof openRows> | null = null;
  const close = (rows: ReturnType<typeof openRows>): { arc: ArcRow; run: RunRow } => {
    rows.arc.wireFeedSpeed = rows.feed / rows.arc.on;
    rows.run.on = Math.round(rows.run.on * 1e6) / 1e6;
    rows.run.travelSpeed = rows.run.speed / rows.run.speedTime;
    return { arc: rows.arc, run: rows.run };
  };
  for (const stand of stands) {
    for (let from = stand.from; from < stand.to; ) {
      const index = Math.floor(from / rowLength);
      const to = Math.min(stand.to, (index + 1) * rowLength);
      if (open === null || open.arc.index !== index) {
        const before: ReturnType<typeof openRows> | null = open;
        if (before !== null) yield close(before);
        open = openRows(index, from - index * rowLength, before === null ? 0 : before.run.travelled + before.run.advance, flags);
      }
      add(open, stand, from, (to - from) / 1e6);
      from = to;
    }
  }
  if (open !== null) yield close(open);
}

function add(rows: ReturnType<typeof openRows>, stand: Stand, from: number, dt: number): void {
  const { arc, run } = rows;
  const { current: i, voltage: u, speed: v } = stand;
  rows.feed += stand.feed * dt;
  arc.covered += dt;
  arc.on += dt;
  if (from === stand.from) arc.samples += 1;
  arc.current += i * dt;
  arc.voltage += u * dt;
  arc.energy += u * i * dt;
  arc.currentSquared += i * i * dt;
  arc.voltageSquared += u * u * dt;
  if (i > 0) arc.positiveTime += dt;
  arc.minCurrent = Math.min(arc.minCurrent, i);
  arc.maxCurrent = Math.max(arc.maxCurrent, i);
  arc.minVoltage = Math.min(arc.minVoltage, u);
  arc.maxVoltage = Math.max(arc.maxVoltage, u);
  arc.length += (Math.abs(v) / 60) * dt;
  arc.feedTime += dt;
  arc.feedSquared += stand.feed * stand.feed * dt;
  arc.minFeed = Math.min(arc.minFeed, stand.feed);
  arc.maxFeed = Math.max(arc.maxFeed, stand.feed);
  run.on += dt;
  run.speedTime += dt;
  run.length += (Math.abs(v) / 60) * dt;
  run.advance += (v / 60) * dt;
  run.speed += v * dt;
  run.speedSquared += v * v * dt;
  run.minSpeed = Math.min(run.minSpeed, v);
  run.maxSpeed = Math.max(run.maxSpeed, v);
}
