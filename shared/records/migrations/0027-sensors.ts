/**
 * The sensors of a carriage as declared, each declaration with the place in the order of items after which it holds; and how long each arc of a run was in which
 * cell of voltage and current. Rows of arcs have more columns from here on.
 */
export const sensorTables: readonly string[] = [
  `CREATE TABLE sensors (
    stream_id INTEGER NOT NULL REFERENCES streams (id),
    revision INTEGER NOT NULL,
    at INTEGER NOT NULL,
    by TEXT NOT NULL,
    after TEXT,
    body TEXT NOT NULL,
    row_sum INTEGER,
    PRIMARY KEY (stream_id, revision)
  ) STRICT`,
  `CREATE TABLE densities (
    run_id TEXT NOT NULL REFERENCES runs (id) ON DELETE CASCADE,
    arc INTEGER NOT NULL,
    cells TEXT NOT NULL,
    row_sum INTEGER,
    PRIMARY KEY (run_id, arc)
  ) STRICT`,
];
