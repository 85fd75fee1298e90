import { changesWithin } from './seq-marks.js';
import type { SeqSet } from './seq-marks.js';

/** What was seen of one boot: per arc, and of any. */
export interface BootMarks {
  readonly arcs: Record<number, SeqSet>;
  readonly any: SeqSet;
}

/**
 * Marks as text: JSON of one text for each set, `below<first:step*count,step,…`, in base 36. Stretches are told by their steps, for their
 * ends are long numbers. What was seen of any arc is left out where it is that of the only one.
 */
export function writeMarks({ arcs, any }: BootMarks): string {
  const texts = Object.fromEntries(Object.entries(arcs).map(([arc, set]) => [arc, writeSet(set)]));
  const [only, ...more] = Object.values(arcs);
  return JSON.stringify({ arcs: texts, ...(only !== undefined && more.length === 0 && isSame(only, any) ? {} : { any: writeSet(any) }) });
}

function isSame(a: SeqSet, b: SeqSet): boolean {
  return a.first === b.first && a.below === b.below && a.to.length === b.to.length && a.to.every((end, at) => end === b.to[at] && a.step[at] === b.step[at]);
}

/** Reads such text, or the plain JSON of the sets that was written before. */
export function readMarks(text: string): BootMarks {
  const { arcs, any } = JSON.parse(text) as { arcs: Record<string, string | SeqSet>; any?: string | SeqSet };
  const read: Record<number, SeqSet> = {};
  for (const [arc, set] of Object.entries(arcs)) read[Number(arc)] = readSet(set);
  const [only = ''] = Object.values(arcs);
  return { arcs: read, any: readSet(any ?? only) };
}

/** Of a set that only goes on at its end, as nearly all do, the text up to some stretch. */
interface Written {
  readonly stretches: number;
  readonly text: string;
}
const written = new WeakMap<SeqSet, Written & { readonly first: number; readonly changes: number }>();
const keptFrom = 512;

function writeSet(set: SeqSet): string {
  const { first, to, below } = set;
  const before = written.get(set);
  const usable = before !== undefined && before.first === first && before.changes === changesWithin(set) ? before : { stretches: 0, text: '' };
  const parts = [usable.text];
  for (let at = usable.stretches; at < to.length; at += 1) parts.push(`${at === 0 ? '' : ','}${stretchText(set, at)}`);
  // The last one may yet grow.
  if (to.length > usable.stretches + keptFrom) written.set(set, { first, changes: changesWithin(set), stretches: to.length - 1, text: parts.slice(0, -1).join('') });
  return `${below === undefined ? '' : `${below.toString(36)}<`}${first.toString(36)}:${parts.join('')}`;
}

function stretchText({ first, to, step }: SeqSet, at: number): string {
  const width = step[at] ?? 1;
  const count = ((to[at] ?? 0) - (to[at - 1] ?? first)) / width;
  return count === 1 ? width.toString(36) : `${width.toString(36)}*${count.toString(36)}`;
}

function readSet(set: string | SeqSet): SeqSet {
  if (typeof set !== 'string') return set;
  const [head = '', rest = ''] = set.split(':');
  const [start = '', forgotten] = head.split('<').reverse();
  const read: SeqSet = { first: whole(start), to: [], step: [], ...(forgotten === undefined ? {} : { below: whole(forgotten) }) };
  let end = read.first;
  for (const stretch of rest === '' ? [] : rest.split(',')) {
    const [width = '', count = '1'] = stretch.split('*');
    const step = whole(width);
    end += step * whole(count);
    read.to.push(end);
    read.step.push(step);
  }
  return read;
}

/** Up to 2^53 - 1, which `parseInt` reads exactly. */
function whole(text: string): number {
  return Number.parseInt(text, 36);
}
