import type { Item, Values } from '../../shared/weld/items/item.js';
import { optionalNames, requiredNames, type OptionalName } from '../../shared/weld/quantities.js';
import { recordOf } from '../../shared/weld/rows/record-of.js';
import type { LogLine } from './log-line.js';

/** An item of a log before its message is numbered. */
export interface PackedItem {
  readonly item: Omit<Item, 'boot' | 'seq'>;
  /** Lines refused between the item's first line and the usable line before it. */
  readonly refusedBefore: number;
  /** Place among the items of the log in the order of their first lines. */
  readonly order: number;
}

export interface LinePacker {
  add(line: LogLine): void;
  refused(): void;
  /** Emits what is still open. */
  finish(): void;
}

/** Lines of an arc at most this far apart become blocks of at most this many samples. */
const widestSpacing = 10_000;
const samplesPerBlock = 100;
/** Narrower spacings are below the shortest interval of a block, µs. */
const narrowestSpacing = 20;
/** A spacing that differs by a greater share from the block's mean breaks the block. */
const evenWithin = 0.25;

type Optional = Readonly<Record<OptionalName, number | null>>;

interface OpenBlock {
  readonly lines: LogLine[];
  /** The current values of the optional columns on each line: the newest value of the arc. */
  readonly held: Optional[];
  /** Mean spacing, µs, of the full block that this one continues without a break. */
  readonly continues: number | null;
  readonly order: number;
  readonly refusedBefore: number;
}

/**
 * Packs the lines of each arc into blocks where they are evenly spaced at 10 ms or less, and into single readings
 * elsewhere. In a block a value that a line leaves out is the one before it: a slow sensor beside fast ones. `give` gets
 * each item as its last line is known, so those of one arc in their order.
 */
export function createLinePacker(give: (item: PackedItem) => void): LinePacker {
  const open = new Map<number, OpenBlock>();
  const newest = new Map<number, Optional>();
  let order = 0;
  let refusedSince = 0;

  const close = (block: OpenBlock): void => { give({ item: itemOf(block), refusedBefore: block.refusedBefore, order: block.order }); };

  return {
    add: (line) => {
      const block = open.get(line.arc);
      const held = hold(newest.get(line.arc), line);
      newest.set(line.arc, held);
      const fits = block !== undefined && isEven(block, line) && sameKnown(block.held[0], held);
      if (fits && block.lines.length < samplesPerBlock) {
        block.lines.push(line);
        block.held.push(held);
        return;
      }
      if (block !== undefined) close(block);
      const continues = fits ? meanSpacing(block) : null;
      open.set(line.arc, { lines: [line], held: [held], continues, order, refusedBefore: refusedSince });
      order += 1;
      refusedSince = 0;
    },
    refused: () => { refusedSince += 1; },
    finish: () => {
      for (const block of open.values()) close(block);
      open.clear();
    },
  };
}

function hold(before: Optional | undefined, line: LogLine): Optional {
  return recordOf(optionalNames, (name) => line[name] ?? before?.[name] ?? null);
}

function sameKnown(a: Optional | undefined, b: Optional): boolean {
  return a !== undefined && optionalNames.every((name) => (a[name] === null) === (b[name] === null));
}

/** Mean spacing of a block's lines so far, µs; for a single line that of the block before, if it continues from there. */
function meanSpacing(block: OpenBlock): number | null {
  const first = block.lines[0];
  const last = block.lines.at(-1);
  if (first === undefined || last === undefined || block.lines.length === 1) return block.continues;
  return (last.time - first.time) / (block.lines.length - 1);
}

function isEven(block: OpenBlock, line: LogLine): boolean {
  const spacing = line.time - (block.lines.at(-1)?.time ?? Number.NaN);
  if (!(spacing >= narrowestSpacing && spacing <= widestSpacing)) return false;
  const mean = meanSpacing(block);
  return mean === null || Math.abs(spacing - mean) <= evenWithin * mean;
}

function itemOf(block: OpenBlock): Omit<Item, 'boot' | 'seq'> {
  const [first] = block.lines;
  const spacing = meanSpacing(block);
  if (first === undefined) throw new RangeError('a block without lines');
  // A line on its own is a reading, with just what it says.
  if (spacing === null) return { ...first, interval: null, count: 1 };
  const optional = (name: OptionalName): Values | null => {
    const values = block.held.flatMap((held) => held[name] ?? []);
    if (values.length === 0) return null;
    const [value] = values;
    return value !== undefined && values.every((other) => other === value) ? value : values;
  };
  return {
    time: first.time,
    arc: first.arc,
    interval: spacing / 1000,
    count: block.lines.length,
    ...recordOf(requiredNames, (name) => block.lines.map((line) => line[name])),
    ...recordOf(optionalNames, optional),
  };
}
