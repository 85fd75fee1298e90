import { takeChange, type SeqSet } from './seq-marks.js';

/** The numbers seen of one boot: per arc, and of any arc. */
export interface BootMarks {
  readonly arcs: Record<number, SeqSet>;
  readonly any: SeqSet;
}

/** Stretches in a piece, a divisor of the number given up at once. A set has pieces only once it fills two and has more stretches after them. */
export const stretchesInPiece = 512;

/** The arc whose set the piece belongs to, 0 for the set of any arc. */
export interface MarkPiece {
  readonly arc: number;
  readonly piece: number;
  readonly steps: string;
}

export interface WrittenMarks {
  readonly text: string;
  /** The pieces that have to be stored again with the text. */
  readonly pieces: readonly MarkPiece[];
  /** For each set, the number below which its pieces are no longer needed. */
  readonly dropped: readonly { readonly arc: number; readonly before: number }[];
}

/** The stored pieces of a set: `count` of them from `base` on. */
interface Stored {
  readonly base: number;
  readonly count: number;
}
const none: Stored = { base: 0, count: 0 };
const stored = new WeakMap<SeqSet, Stored>();

/**
 * Marks as text: JSON with one text for each set, `below<first@base+count:step*count,step,…`, in base 36. Stretches are written as their steps, since
 * their ends are long numbers. The numbers of any arc are left out where they equal those of the only arc.
 *
 * Seqs that skip most numbers make tens of thousands of stretches, and an item changes only the last of them: `count` pieces from `base` on contain
 * the first stretches, and only pieces that have changed since the marks were last written are returned again.
 */
export function writeMarks({ arcs, any }: BootMarks): WrittenMarks {
  const pieces: MarkPiece[] = [];
  const dropped: { arc: number; before: number }[] = [];
  const write = (set: SeqSet, arc: number): string => writeSet(set, arc, pieces, dropped);
  const texts = Object.fromEntries(Object.entries(arcs).map(([arc, set]) => [arc, write(set, Number(arc))]));
  const [only, ...more] = Object.values(arcs);
  const left = only !== undefined && more.length === 0 && isSame(only, any);
  return { text: JSON.stringify({ arcs: texts, ...(left ? {} : { any: write(any, 0) }) }), pieces, dropped };
}

function isSame(a: SeqSet, b: SeqSet): boolean {
  if (a === b) return true;
  if (a.first !== b.first || a.below !== b.below || a.to.length !== b.to.length) return false;
  for (let at = a.to.length - 1; at >= 0; at -= 1) if (a.to[at] !== b.to[at] || a.step[at] !== b.step[at]) return false;
  return true;
}

/** Reads such text, or the plain JSON of sets that earlier versions wrote; `pieces` are those of this boot, in order. */
export function readMarks(text: string, pieces: readonly MarkPiece[] = []): BootMarks {
  const { arcs, any } = JSON.parse(text) as { arcs: Record<string, string | SeqSet>; any?: string | SeqSet };
  const read: Record<number, SeqSet> = {};
  for (const [arc, set] of Object.entries(arcs)) read[Number(arc)] = readSet(set, Number(arc), pieces, true);
  const [[arc, only] = ['0', '']] = Object.entries(arcs);
  return { arcs: read, any: any === undefined ? readSet(only, Number(arc), pieces, false) : readSet(any, 0, pieces, true) };
}

function writeSet(set: SeqSet, arc: number, pieces: MarkPiece[], dropped: { arc: number; before: number }[]): string {
  const { first, to, below } = set;
  const change = takeChange(set);
  const before = stored.get(set) ?? none;
  const gone = change.gone / stretchesInPiece;
  const base = before.base + gone;
  if (gone > 0) dropped.push({ arc, before: base });
  // The change may lie after all pieces; a piece that contains it is written again, and so are those after it.
  const usable = Math.min(Math.max(0, before.count - gone), Math.floor(Math.min(change.from, to.length) / stretchesInPiece));
  // More than one piece stays out of the stored ones, so that an item that is a little late changes no piece.
  const count = Math.max(0, Math.floor(to.length / stretchesInPiece) - 1);
  for (let piece = usable; piece < count; piece += 1) pieces.push({ arc, piece: base + piece, steps: stepsText(set, piece * stretchesInPiece, (piece + 1) * stretchesInPiece) });
  stored.set(set, { base, count });
  const at = count === 0 ? '' : `@${base.toString(36)}+${count.toString(36)}`;
  return `${below === undefined ? '' : `${below.toString(36)}<`}${first.toString(36)}${at}:${stepsText(set, count * stretchesInPiece, to.length)}`;
}

function stepsText(set: SeqSet, from: number, end: number): string {
  const parts: string[] = [];
  for (let at = from; at < end; at += 1) parts.push(stretchText(set, at));
  return parts.join(',');
}

function stretchText({ first, to, step }: SeqSet, at: number): string {
  const width = step[at] ?? 1;
  const count = ((to[at] ?? 0) - (to[at - 1] ?? first)) / width;
  return count === 1 ? width.toString(36) : `${width.toString(36)}*${count.toString(36)}`;
}

/** `own` says whether the pieces belong to this set rather than to another that it equals. */
function readSet(set: string | SeqSet, arc: number, pieces: readonly MarkPiece[], own: boolean): SeqSet {
  if (typeof set !== 'string') return set;
  const [head = '', rest = ''] = set.split(':');
  const [start = '', forgotten] = head.split('<').reverse();
  const [first = '', places = '0+0'] = start.split('@');
  const [base = 0, count = 0] = places.split('+').map(whole);
  const read: SeqSet = { first: whole(first), to: [], step: [], ...(forgotten === undefined ? {} : { below: whole(forgotten) }) };
  const held = pieces.filter((piece) => piece.arc === arc && piece.piece >= base && piece.piece < base + count);
  if (held.length !== count) throw new Error(`of the marks of arc ${arc} ${held.length} pieces are stored instead of ${count}`);
  for (const { steps } of held) readSteps(read, steps);
  readSteps(read, rest);
  if (own && count > 0) stored.set(read, { base, count });
  return read;
}

function readSteps(read: SeqSet, steps: string): void {
  let end = read.to.at(-1) ?? read.first;
  for (const stretch of steps === '' ? [] : steps.split(',')) {
    const [width = '', count = '1'] = stretch.split('*');
    const step = whole(width);
    end += step * whole(count);
    read.to.push(end);
    read.step.push(step);
  }
}

/** Reads a number up to 2^53 - 1, which `parseInt` reads exactly. */
function whole(text: string): number {
  return Number.parseInt(text, 36);
}
