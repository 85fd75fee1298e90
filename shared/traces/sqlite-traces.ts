import { damageError, fileOf } from '../sqlite/damage.js';
import type { SqliteFile } from '../sqlite/sqlite-file.js';
import { codecOf, plainIndex, rowsBefore } from './row-codec.js';
import { sqliteTraceSeals } from './sqlite-trace-seals.js';
import { sqliteTraceTail } from './sqlite-trace-tail.js';
import { outOfOrder, type PlainRows, type TraceChange } from './trace-change.js';

export { sqliteTraceReader } from './sqlite-trace-reader.js';
export { sqliteTracesSchema } from './sqlite-traces-schema.js';

/** Number of rows in one packed stretch: one minute. */
const packedRows = 600;

interface Entry {
  readonly id: number;
  readonly arc: number;
  readonly first_index: number;
  readonly pending: number;
  readonly body: Uint8Array;
}

/**
 * Applies changes of traces to SQLite. The tables (`sqliteTracesSchema`) must exist. Nothing is remembered between calls, so a transaction that the
 * caller rolls back leaves nothing behind here either.
 */
export function sqliteTraceWriter(db: SqliteFile): (change: TraceChange) => void {
  const tail = sqliteTraceTail(db);
  const { seal, unseal, forget } = sqliteTraceSeals(db);
  const newest = db.prepare<[string, number], { last_index: number; pending: number }>(
    'SELECT last_index, pending FROM trace_recent WHERE run = ? AND arc = ? ORDER BY first_index DESC LIMIT 1',
  );
  const newestPacked = db.prepare<[string, number], { last_index: number }>(
    'SELECT last_index FROM trace_packed WHERE run = ? AND arc = ? ORDER BY first_index DESC LIMIT 1',
  );
  const addRecent = db.prepare<[string, number, number, number, number, number, Uint8Array]>(
    'INSERT INTO trace_recent (run, arc, first_index, last_index, row_count, pending, body) VALUES (?, ?, ?, ?, ?, ?, ?)',
  );
  const addPacked = db.prepare<[string, number, number, number, number, Uint8Array]>(
    'INSERT INTO trace_packed (run, arc, first_index, last_index, row_count, body) VALUES (?, ?, ?, ?, ?, ?)',
  );
  const recent = db.prepare<[string, number], { body: Uint8Array }>('SELECT body FROM trace_recent WHERE run = ? AND arc = ? ORDER BY first_index');
  const dropRecent = db.prepare<[string, number]>('DELETE FROM trace_recent WHERE run = ? AND arc = ?');
  const recentArcs = db.prepare<[string], { arc: number }>('SELECT DISTINCT arc FROM trace_recent WHERE run = ?');
  const reaching = {
    recent: db.prepare<[string, number], Entry>('SELECT id, arc, first_index, pending, body FROM trace_recent WHERE run = ? AND last_index >= ?'),
    packed: db.prepare<[string, number], Entry>('SELECT id, arc, first_index, 0 AS pending, body FROM trace_packed WHERE run = ? AND last_index >= ?'),
  };
  const drop = {
    recent: db.prepare<[number]>('DELETE FROM trace_recent WHERE id = ?'),
    packed: db.prepare<[number]>('DELETE FROM trace_packed WHERE id = ?'),
  };
  const rewrite = {
    recent: db.prepare<[number, number, Uint8Array, number, number]>('UPDATE trace_recent SET last_index = ?, row_count = ?, body = ?, pending = ? WHERE id = ?'),
    packed: db.prepare<[number, number, Uint8Array, number]>('UPDATE trace_packed SET last_index = ?, row_count = ?, body = ? WHERE id = ?'),
  };
  const removeAll = [db.prepare<[string]>('DELETE FROM trace_packed WHERE run = ?'), db.prepare<[string]>('DELETE FROM trace_recent WHERE run = ?')];

  function rowsIn(run: string, arc: number, body: Uint8Array): Uint8Array {
    try {
      return codecOf(arc).opened(body);
    } catch (error) {
      throw damageError(fileOf(db), `the newest part of the trace of run ${run}, arc ${arc},`, error);
    }
  }

  /** Packs the arc's plain rows and then those of `more`, either whole minutes only or all of them. */
  function pack(run: string, arc: number, more: Uint8Array | null): void {
    const codec = codecOf(arc);
    const bodies = recent.all(run, arc).map((entry) => rowsIn(run, arc, entry.body));
    if (bodies.length > 0) dropRecent.run(run, arc);
    if (more !== null) bodies.push(more);
    const rows = Buffer.concat(bodies);
    const count = rows.length / codec.width;
    for (let from = 0; from < count; from += packedRows) {
      const to = Math.min(count, from + packedRows);
      const part = rows.subarray(from * codec.width, to * codec.width);
      const [first, last] = [plainIndex(rows, from, codec), plainIndex(rows, to - 1, codec)];
      if (more === null || to - from === packedRows) addPacked.run(run, arc, first, last, to - from, codec.pack(part));
      else addRecent.run(run, arc, first, last, to - from, to - from, codec.body(part));
    }
  }

  function append({ run, arc, first, last, count, rows }: PlainRows): void {
    unseal(run);
    const before = newest.get(run, arc);
    const previous = (before ?? newestPacked.get(run, arc))?.last_index ?? Number.NEGATIVE_INFINITY;
    if (first <= previous) throw outOfOrder(run, arc, first, previous);
    const pending = (before?.pending ?? 0) + count;
    if (pending < packedRows) addRecent.run(run, arc, first, last, count, pending, codecOf(arc).body(rows));
    else pack(run, arc, rows);
  }

  /** Keeps only the rows of an entry before `index`. */
  function shorten(place: 'recent' | 'packed', entry: Entry, index: number): void {
    const codec = codecOf(entry.arc);
    const rows = place === 'recent' ? codec.opened(entry.body) : codec.unpack(entry.body);
    const count = rowsBefore(rows, index, codec);
    if (count === 0) {
      drop[place].run(entry.id);
      return;
    }
    const kept = rows.subarray(0, count * codec.width);
    const last = plainIndex(rows, count - 1, codec);
    if (place === 'packed') rewrite.packed.run(last, count, codec.pack(kept), entry.id);
    else rewrite.recent.run(last, count, codec.body(kept), entry.pending - (rows.length / codec.width - count), entry.id);
  }

  function cut(run: string, index: number): void {
    unseal(run);
    tail.cut(run, index);
    for (const place of ['recent', 'packed'] as const) {
      for (const entry of reaching[place].all(run, index)) {
        if (entry.first_index >= index) drop[place].run(entry.id);
        else shorten(place, entry, index);
      }
    }
  }

  function close(run: string): void {
    unseal(run);
    for (const { arc } of recentArcs.all(run)) pack(run, arc, null);
  }

  function setTail(run: string, parts: readonly PlainRows[]): void {
    if (parts.length === 0 && !tail.isThere(run)) return;
    unseal(run);
    tail.set(run, parts);
  }

  function remove(run: string): void {
    forget(run);
    tail.remove(run);
    for (const statement of removeAll) statement.run(run);
  }

  return (change) => {
    if ('append' in change) append(change.append);
    else if ('tail' in change) setTail(change.tail, change.parts);
    else if ('cut' in change) cut(change.cut, change.index);
    else if ('close' in change) close(change.close);
    else if ('seal' in change) seal(change.seal);
    else remove(change.remove);
  };
}
