import type { Span } from './plain-types.js';
import type { RunParts } from './split-runs.js';
import type { PlainStream } from './zoned-rows.js';
import type { RunRowGroup } from '../named-rows.js';

export const rowTime = 100_000;

/** A run as it is known at one of its rows, without anything later. Rows are identified by their numbers, of 100 ms since 1970. */
export interface KnownRun {
  readonly stream: PlainStream;
  readonly run: RunParts;
  /** In order. */
  readonly groups: readonly RunRowGroup[];
  /** The newest row; Infinity once the run is over. */
  readonly newest: number;
}

/** The row in which something happened; `time` in µs from the stream's base. */
export const rowOf = (stream: PlainStream, time: number): number => Math.floor((time + stream.base) / rowTime);

/** A run up to the row `newest`: an arc that goes out later still burns, and its crater is not known. */
export function knownRun({ stream, run, groups }: Omit<KnownRun, 'newest'>, newest: number): KnownRun {
  if (newest === Number.POSITIVE_INFINITY) return { stream, run, groups, newest };
  const end = (newest + 1) * rowTime - stream.base;
  const burns = run.burns.filter(({ from }) => from < end).map((burn) => (burn.to < end ? burn : { ...burn, to: end, out: false }));
  const gaps = run.gaps.filter(({ from }) => from < end).map((gap) => ({ ...gap, to: Math.min(gap.to, end) }));
  return { stream, run: { ...run, burns, gaps }, groups: groups.filter((group) => group.run.index <= newest), newest };
}

/** For each burning, in order, the row in which it ended; Infinity if it continues. */
function outRows(stream: PlainStream, burns: readonly (Span & { readonly out: boolean })[]): number[] {
  return burns.map(({ to, out }) => (out ? rowOf(stream, to) : Number.POSITIVE_INFINITY));
}

/** For each burning of an arc, the row in which it went out, as far as that is known. */
export function arcOuts({ stream, run }: KnownRun, arc: number): number[] {
  return outRows(stream, run.burns.filter((burn) => burn.arc === arc));
}

/** For each stretch in which any arc burns, the row in which all were out, as far as that is known. */
export function allOuts({ stream, run }: KnownRun): number[] {
  const burnings: { from: number; to: number; out: boolean }[] = [];
  for (const { from, to, out } of [...run.burns].sort((a, b) => a.from - b.from)) {
    const last = burnings.at(-1);
    if (last === undefined || from > last.to) burnings.push({ from, to, out });
    else if (to > last.to) Object.assign(last, { to, out });
    else if (to === last.to) last.out &&= out;
  }
  return outRows(stream, burnings);
}
