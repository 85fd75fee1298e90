import type { SqliteFile } from '../sqlite/sqlite-file.js';
import { codecOf, plainIndex, rowsBefore } from './row-codec.js';
import type { PlainRows } from './trace-change.js';

/** The provisional rows of a run: one entry for each arc, overwritten in place. */
export interface TraceTail {
  isThere(run: string): boolean;
  set(run: string, parts: readonly PlainRows[]): void;
  cut(run: string, index: number): void;
  remove(run: string): void;
}

export function sqliteTraceTail(db: SqliteFile): TraceTail {
  const put = db.prepare<[string, number, number, number, number, Uint8Array]>(
    `INSERT INTO trace_tail (run, arc, first_index, last_index, row_count, body) VALUES (?, ?, ?, ?, ?, ?)
     ON CONFLICT (run, arc) DO UPDATE SET first_index = excluded.first_index, last_index = excluded.last_index,
       row_count = excluded.row_count, body = excluded.body`,
  );
  const arcsOf = db.prepare<[string], { arc: number }>('SELECT arc FROM trace_tail WHERE run = ?');
  const dropArc = db.prepare<[string, number]>('DELETE FROM trace_tail WHERE run = ? AND arc = ?');
  const reaching = db.prepare<[string, number], { id: number; arc: number; first_index: number; body: Uint8Array }>(
    'SELECT id, arc, first_index, body FROM trace_tail WHERE run = ? AND last_index >= ?',
  );
  const drop = db.prepare<[number]>('DELETE FROM trace_tail WHERE id = ?');
  const removeAll = db.prepare<[string]>('DELETE FROM trace_tail WHERE run = ?');

  function write({ run, arc, first, last, count, rows }: PlainRows): void {
    put.run(run, arc, first, last, count, codecOf(arc).body(rows));
  }
  /** Keeps only the rows before `index`; there is at least one. */
  function shorten(run: string, arc: number, first: number, body: Uint8Array, index: number): void {
    const codec = codecOf(arc);
    const rows = codec.opened(body);
    const count = rowsBefore(rows, index, codec);
    write({ run, arc, first, last: plainIndex(rows, count - 1, codec), count, rows: rows.subarray(0, count * codec.width) });
  }

  return {
    isThere: (run) => arcsOf.get(run) !== undefined,
    set(run, parts) {
      for (const { arc } of arcsOf.all(run)) if (!parts.some((part) => part.arc === arc)) dropArc.run(run, arc);
      for (const part of parts) write(part);
    },
    cut(run, index) {
      for (const entry of reaching.all(run, index)) {
        if (entry.first_index >= index) drop.run(entry.id);
        else shorten(run, entry.arc, entry.first_index, entry.body, index);
      }
    },
    remove: (run) => void removeAll.run(run),
  };
}
