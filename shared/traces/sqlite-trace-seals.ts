import { crc32 } from 'node:zlib';
import { damageError, fileOf } from '../sqlite/damage.js';
import type { SqliteFile } from '../sqlite/sqlite-file.js';

/** Seals record the parts of a finished trace. Bodies have checksums of their own; only the seal shows that none is missing or misplaced. */
export interface TraceSeals {
  /** Throws, as `check` does, if the trace is sealed already and has changed since. */
  readonly seal: (run: string) => void;
  /** To be called before any change of the trace. Throws as `check` does: otherwise a new seal would hide that something was missing. */
  readonly unseal: (run: string) => void;
  /** Throws a damage error if the trace is sealed and its parts are not the sealed ones. */
  readonly check: (run: string) => void;
  /** The parts of a sealed trace; null if it has no seal. Throws as `check` does. The caller reads the bodies in the same transaction. */
  readonly partsOf: (run: string) => readonly TracePart[] | null;
  /** Forgets the seal of a trace that is removed. */
  readonly forget: (run: string) => void;
}

/** A stored stretch of a trace, without its body. */
export interface TracePart {
  readonly place: 'packed' | 'recent' | 'tail';
  readonly id: number;
  /** The run as the entry names it: a search by the run alone may skip an entry of another name. */
  readonly run: string;
  readonly arc: number;
  readonly first_index: number;
  readonly last_index: number;
  readonly row_count: number;
}

const columns = 'id, run, arc, first_index, last_index, row_count';

/** The number of runs that are remembered as complete; they are not checked again while their seal is the same. */
const mostRemembered = 1_000;

export function sqliteTraceSeals(db: SqliteFile): TraceSeals {
  // All of these columns are in the indexes, by which the bodies are found.
  const parts = db.prepare<[{ run: string }], TracePart>(
    `SELECT 'packed' AS place, ${columns} FROM trace_packed WHERE run = @run
     UNION ALL SELECT 'recent', ${columns} FROM trace_recent WHERE run = @run
     UNION ALL SELECT 'tail', ${columns} FROM trace_tail WHERE run = @run`,
  );
  const sealed = db.prepare<[string], { sum: number }>('SELECT sum FROM trace_seals WHERE run = ?');
  const put = db.prepare<[string, number]>('INSERT INTO trace_seals (run, sum) VALUES (?, ?)');
  const drop = db.prepare<[string]>('DELETE FROM trace_seals WHERE run = ?');
  const found = new Map<string, number>();
  // Many ranges of one run are requested, and a run that was welded for a week has thousands of parts.
  let last: { readonly run: string; readonly sum: number; readonly parts: readonly TracePart[] } = { run: '', sum: 0, parts: [] };

  function partsOf(run: string): readonly TracePart[] | null {
    const sum = sealed.get(run)?.sum;
    if (sum === undefined) return null;
    if (last.run === run && last.sum === sum) return last.parts;
    const own = parts.all({ run });
    if (sumOf(own) !== sum) throw damageError(fileOf(db), `the trace of run ${run}`, new Error('it is made of other parts than were written'));
    if (found.size >= mostRemembered) found.clear();
    found.set(run, sum);
    last = { run, sum, parts: own };
    return own;
  }

  // Reads seal and parts as one snapshot.
  const look = db.transaction(partsOf);

  function check(run: string): boolean {
    const sum = sealed.get(run)?.sum;
    if (sum !== undefined && found.get(run) !== sum) look(run);
    return sum !== undefined;
  }

  return {
    seal: (run) => {
      if (check(run)) return;
      put.run(run, sumOf(parts.all({ run })));
    },
    unseal: (run) => {
      if (check(run)) drop.run(run);
    },
    check: (run) => void check(run),
    partsOf,
    forget: (run) => void drop.run(run),
  };
}

function sumOf(parts: readonly TracePart[]): number {
  const texts = parts.map(({ place, id, run, arc, first_index, last_index, row_count }) => `${place} ${id} ${run} ${arc} ${first_index} ${last_index} ${row_count}`);
  return crc32(texts.sort().join('\n'));
}
