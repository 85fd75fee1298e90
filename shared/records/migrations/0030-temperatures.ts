/**
 * Temperatures of the plate that somebody entered, in the order in which they were entered. `run_id` is the run that one was entered at, null for one entered at
 * the carriage for the run to come; `at` is by the clock of the carriage, `entered` and `withdrawn_at` are by that of the service.
 */
export const temperatures: readonly string[] = [
  `CREATE TABLE temperatures (
    number INTEGER PRIMARY KEY AUTOINCREMENT,
    id TEXT NOT NULL UNIQUE,
    stream_id INTEGER NOT NULL,
    run_id TEXT,
    kind TEXT NOT NULL,
    value REAL NOT NULL,
    at INTEGER NOT NULL,
    seam TEXT,
    place TEXT NOT NULL,
    seam_position REAL,
    distance REAL,
    instrument TEXT,
    by TEXT NOT NULL,
    reason TEXT,
    entered INTEGER NOT NULL,
    withdrawn_at INTEGER,
    withdrawn_by TEXT,
    withdrawn_reason TEXT,
    row_sum INTEGER
  ) STRICT`,
  'CREATE INDEX temperatures_by_stream ON temperatures (stream_id, number)',
  'CREATE INDEX temperatures_by_time ON temperatures (stream_id, at) WHERE run_id IS NULL',
  'CREATE INDEX temperatures_by_run ON temperatures (run_id, number) WHERE run_id IS NOT NULL',
];
