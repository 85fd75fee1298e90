import { damageError, fileOf } from '../sqlite/damage.js';
import type { SqliteFile } from '../sqlite/sqlite-file.js';
import type { RowStretch } from '../weld/rows/row-stretch.js';
import { keptColumns } from './kept-columns.js';
import { arcRowCodec, codecOf, plainIndex, rowsBefore, runArc, runRowCodec, type RowCodec } from './row-codec.js';
import { sealedEntries, type TraceEntry } from './sealed-entries.js';
import { sqliteTraceSeals } from './sqlite-trace-seals.js';
import type { TraceReader } from './trace-store.js';

/** A stored stretch and the range requested from it: `from <= index < to`. */
interface Found {
  readonly plain: boolean;
  readonly body: Uint8Array;
  readonly from: number;
  readonly to: number;
  readonly failed: (cause: unknown) => Error;
}

interface TailEntry {
  readonly arc: number;
  readonly row_count: number;
  readonly first_index: number;
  readonly last_index: number;
  readonly body: Uint8Array;
  /** Greatest appended index, or null: provisional rows up to that index have become final since. */
  readonly appended: number | null;
}

interface Extent {
  readonly arc: number;
  readonly rows: number;
  readonly first: number;
  readonly last: number;
}

const lowest = Number.MIN_SAFE_INTEGER;
const highest = Number.MAX_SAFE_INTEGER;

/** Greatest appended index for the run and arc of a tail entry; packed rows come before plain ones. */
const appended = `coalesce(
  (SELECT r.last_index FROM trace_recent r WHERE r.run = t.run AND r.arc = t.arc ORDER BY r.first_index DESC LIMIT 1),
  (SELECT p.last_index FROM trace_packed p WHERE p.run = t.run AND p.arc = t.arc ORDER BY p.first_index DESC LIMIT 1))`;

const tailSql = `SELECT t.arc, t.row_count, t.first_index, t.last_index, t.body, ${appended} AS appended FROM trace_tail t WHERE t.run = ?`;

/**
 * The reading side, for the writer's connection or a separate read-only one. The answer to a call is a snapshot: the entries are fetched when it is
 * made (they are small) and unpacked as the rows are read.
 */
export function sqliteTraceReader(db: SqliteFile): TraceReader {
  const within = 'run = @run AND arc = @arc AND first_index < @to AND last_index >= @from';
  const entries = db.prepare<[{ run: string; arc: number; from: number; to: number }], TraceEntry>(
    `SELECT 0 AS rank, 'packed' AS place, first_index, body, NULL AS appended FROM trace_packed WHERE ${within}
     UNION ALL SELECT 1, 'recent', first_index, body, NULL FROM trace_recent WHERE ${within}
     UNION ALL SELECT 2, 'tail', first_index, body, ${appended} FROM trace_tail t WHERE ${within}
     ORDER BY rank, first_index`,
  );
  const counted = db.prepare<[string, string], Extent>(
    `SELECT arc, sum(row_count) AS rows, min(first_index) AS first, max(last_index) AS last FROM
       (SELECT arc, row_count, first_index, last_index FROM trace_packed WHERE run = ?
        UNION ALL SELECT arc, row_count, first_index, last_index FROM trace_recent WHERE run = ?)
     GROUP BY arc`,
  );
  const tails = db.prepare<[string], TailEntry>(tailSql);
  const seals = sqliteTraceSeals(db);
  const ofSealed = sealedEntries(db);

  const failure = (run: string, arc: number, first: number, cause: unknown): Error => damageError(fileOf(db), `the trace of run ${run}, arc ${arc}, from row ${first} on`, cause);

  /** All stored entries of an arc within a range, as one snapshot. */
  const entriesOf = db.transaction((run: string, arc: number, range: { readonly from: number; readonly to: number }): TraceEntry[] => {
    const parts = seals.partsOf(run);
    if (parts === null) return entries.all({ run, arc, ...range });
    return ofSealed(parts.filter((part) => part.arc === arc), range, ({ first_index }) => failure(run, arc, first_index, new Error('it is no longer there')));
  });

  function found(run: string, arc: number, from: number, to: number): Found[] {
    const range = { from: Math.max(from, lowest), to: Math.min(to, highest) };
    return entriesOf(run, arc, range).map(({ place, first_index, body, appended }) => ({
      plain: place !== 'packed', body,
      from: place === 'tail' && appended !== null ? Math.max(range.from, appended + 1) : range.from, to: range.to,
      failed: (cause: unknown) => failure(run, arc, first_index, cause),
    }));
  }

  function stretchesOf<Column extends string, Name extends Column>(
    all: readonly Found[], codec: RowCodec<Column>, names: readonly Name[],
  ): Iterable<RowStretch<Name>> {
    return {
      *[Symbol.iterator]() {
        for (const own of all) {
          yield decoded(own, () => keptColumns<Name>(own.plain ? codec.plainColumns(own.body) : codec.unpackColumns(own.body, names), names, own.from, own.to));
        }
      },
    };
  }

  /** The extent of each arc of the run; of the tails only the rows that were not appended. Both statements see one snapshot. */
  const extents = db.transaction((run: string): Extent[] => {
    const all: Extent[] = counted.all(run, run);
    for (const tail of tails.all(run)) {
      const begin = tail.appended === null ? lowest : tail.appended + 1;
      if (tail.last_index < begin) continue;
      let [rows, first] = [tail.row_count, tail.first_index];
      if (first < begin) {
        const codec = codecOf(tail.arc);
        const own = codec.opened(tail.body);
        const before = rowsBefore(own, begin, codec);
        [rows, first] = [rows - before, plainIndex(own, before, codec)];
      }
      all.push({ arc: tail.arc, rows, first, last: tail.last_index });
    }
    return all;
  });

  return {
    arcs(run) {
      seals.check(run);
      const arcs = new Set(extents(run).map((part) => part.arc));
      arcs.delete(runArc);
      return [...arcs].sort((a, b) => a - b);
    },
    readArcColumns: (run, arc, names, from = lowest, to = highest) => stretchesOf(found(run, arc, from, to), arcRowCodec, names),
    readRunColumns: (run, names, from = lowest, to = highest) => stretchesOf(found(run, runArc, from, to), runRowCodec, names),
    extent(run) {
      seals.check(run);
      const parts = extents(run);
      if (parts.length === 0) return null;
      let [rows, first, last] = [0, Infinity, -Infinity];
      for (const part of parts) {
        if (part.arc !== runArc) rows += part.rows;
        first = Math.min(first, part.first);
        last = Math.max(last, part.last);
      }
      return { rows, first, last };
    },
  };
}

function decoded<Rows>({ failed }: Found, read: () => Rows): Rows {
  try {
    return read();
  } catch (error) {
    throw failed(error);
  }
}
