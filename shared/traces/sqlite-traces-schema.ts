/** The columns of every stretch of rows. */
const stretch = `id INTEGER PRIMARY KEY,
  run TEXT NOT NULL,
  arc INTEGER NOT NULL,
  first_index INTEGER NOT NULL,
  last_index INTEGER NOT NULL,
  row_count INTEGER NOT NULL`;

/**
 * Tables of the trace store, as one SQL text that is safe to run again. Blobs are in tables with an integer rowid, since in WITHOUT ROWID tables
 * they spill to overflow pages. The indexes contain everything needed to find and count rows. Arc 0 is the run itself.
 *
 * `trace_packed`: closed stretches, packed (`shared/traces/pack-columns.ts`), usually 600 rows each.
 * `trace_recent`: plain rows appended since then, one entry for each append; `pending` counts the rows up to the end of the entry.
 * `trace_tail`: the provisional rows after them, plain, replaced as a whole.
 * `trace_seals`: a checksum over the parts of a finished trace (sqlite-trace-seals.ts); absent while the trace changes.
 * Every body names its format and contains a checksum (pack-columns.ts, plain-body.ts), except plain ones of earlier versions.
 */
export const sqliteTracesSchema = `
CREATE TABLE IF NOT EXISTS trace_packed (
  ${stretch},
  body BLOB NOT NULL
);
CREATE INDEX IF NOT EXISTS trace_packed_place ON trace_packed (run, arc, first_index, last_index, row_count);
CREATE TABLE IF NOT EXISTS trace_recent (
  ${stretch},
  pending INTEGER NOT NULL,
  body BLOB NOT NULL
);
CREATE INDEX IF NOT EXISTS trace_recent_place ON trace_recent (run, arc, first_index, last_index, row_count);
CREATE TABLE IF NOT EXISTS trace_tail (
  ${stretch},
  body BLOB NOT NULL
);
CREATE UNIQUE INDEX IF NOT EXISTS trace_tail_place ON trace_tail (run, arc);
CREATE TABLE IF NOT EXISTS trace_seals (
  run TEXT PRIMARY KEY,
  sum INTEGER NOT NULL
) WITHOUT ROWID;
`;
