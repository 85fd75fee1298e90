import type { SqliteFile } from '../sqlite/sqlite-file.js';
import type { TracePart } from './sqlite-trace-seals.js';

/** A stored stretch with its body, and for a tail the greatest index that was appended before it. */
export interface TraceEntry {
  readonly place: TracePart['place'];
  readonly first_index: number;
  readonly body: Uint8Array;
  readonly appended: number | null;
}

/** The tables, in the order in which their rows follow one another. */
const places = ['packed', 'recent', 'tail'] as const;

/** Reads the bodies of those parts of one arc that overlap `from <= index < to`; throws `gone` if one is missing. */
export type ReadEntries = (parts: readonly TracePart[], range: { readonly from: number; readonly to: number }, gone: (part: TracePart) => Error) => TraceEntry[];

/**
 * Reads the entries of a sealed trace, each by the number that its seal vouches for: in a damaged index, a search for the rows of a run may go astray
 * at an entry of another run and skip some of them.
 */
export function sealedEntries(db: SqliteFile): ReadEntries {
  const bodyOf = (place: TracePart['place']): ReturnType<typeof db.prepare<[number], { body: Uint8Array }>> => db.prepare(`SELECT body FROM trace_${place} WHERE id = ?`);
  const bodies = { packed: bodyOf('packed'), recent: bodyOf('recent'), tail: bodyOf('tail') };

  return (parts, { from, to }, gone) => {
    const inOrder = [...parts].sort((a, b) => a.first_index - b.first_index);
    const lastIn = (place: TracePart['place']): TracePart | undefined => inOrder.findLast((part) => part.place === place);
    const appended = (lastIn('recent') ?? lastIn('packed'))?.last_index ?? null;
    return places.flatMap((place) =>
      inOrder.filter((part) => part.place === place && part.first_index < to && part.last_index >= from).map((part) => {
        const found = bodies[place].get(part.id);
        if (found === undefined) throw gone(part);
        return { place, first_index: part.first_index, body: found.body, appended: place === 'tail' ? appended : null };
      }),
    );
  };
}
