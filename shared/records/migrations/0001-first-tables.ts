/**
 * The first tables. Numbers are declared STRICT so that no text slips into a time. Rowid tables where rows hold JSON
 * or bytes, so that large values stay out of the way of their keys.
 */
export const firstTables: readonly string[] = [
  `CREATE TABLE streams (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    site TEXT NOT NULL,
    carriage TEXT NOT NULL,
    stream TEXT NOT NULL,
    online INTEGER,
    last_seen INTEGER,
    clock_offset REAL,
    snapshot TEXT,
    UNIQUE (site, carriage, stream)
  ) STRICT`,

  `CREATE TABLE boots (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    stream_id INTEGER NOT NULL REFERENCES streams (id),
    boot TEXT NOT NULL,
    rank INTEGER NOT NULL,
    marks TEXT NOT NULL,
    UNIQUE (stream_id, boot)
  ) STRICT`,
  'CREATE INDEX boots_by_rank ON boots (stream_id, rank)',

  `CREATE TABLE time_marks (
    stream_id INTEGER NOT NULL REFERENCES streams (id),
    arc INTEGER NOT NULL,
    time INTEGER NOT NULL,
    PRIMARY KEY (stream_id, arc, time)
  ) STRICT, WITHOUT ROWID`,

  `CREATE TABLE kept (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    stream_id INTEGER NOT NULL REFERENCES streams (id),
    arrived INTEGER NOT NULL,
    kind TEXT NOT NULL,
    payload BLOB NOT NULL,
    taken TEXT
  ) STRICT`,
  'CREATE INDEX kept_by_stream ON kept (stream_id, id)',

  `CREATE TABLE assignments (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    stream_id INTEGER NOT NULL REFERENCES streams (id),
    received INTEGER NOT NULL,
    anchor TEXT NOT NULL,
    body TEXT
  ) STRICT`,
  'CREATE INDEX assignments_by_stream ON assignments (stream_id, id)',

  `CREATE TABLE checkpoints (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    stream_id INTEGER NOT NULL REFERENCES streams (id),
    position TEXT NOT NULL,
    kept_from INTEGER NOT NULL,
    created INTEGER NOT NULL,
    state BLOB NOT NULL
  ) STRICT`,
  'CREATE INDEX checkpoints_by_stream ON checkpoints (stream_id, id)',

  `CREATE TABLE runs (
    id TEXT NOT NULL PRIMARY KEY,
    stream_id INTEGER NOT NULL REFERENCES streams (id),
    site TEXT NOT NULL,
    carriage TEXT NOT NULL,
    seam TEXT,
    run INTEGER,
    attempt INTEGER NOT NULL,
    assigned INTEGER NOT NULL,
    state TEXT NOT NULL,
    simulated INTEGER NOT NULL,
    started INTEGER NOT NULL,
    ended INTEGER,
    version INTEGER NOT NULL,
    finished INTEGER,
    span TEXT NOT NULL,
    marks TEXT NOT NULL,
    override TEXT,
    record TEXT NOT NULL
  ) STRICT`,
  'CREATE INDEX runs_by_start ON runs (started DESC, id DESC)',
  'CREATE INDEX runs_by_stream ON runs (stream_id, started)',
  'CREATE INDEX runs_by_carriage ON runs (carriage, site, started DESC, id DESC)',
  'CREATE INDEX runs_by_seam ON runs (seam, started DESC, id DESC)',
  // Few runs are open at a time, and they are requested all day.
  "CREATE INDEX runs_open ON runs (started DESC, id DESC) WHERE state = 'welding'",
  'CREATE INDEX runs_unassigned ON runs (started DESC, id DESC) WHERE assigned = 0',

  `CREATE TABLE late (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    run_id TEXT NOT NULL REFERENCES runs (id),
    received INTEGER NOT NULL,
    boot TEXT,
    seq INTEGER,
    arc INTEGER NOT NULL,
    time INTEGER,
    item TEXT NOT NULL
  ) STRICT`,
  'CREATE INDEX late_by_run ON late (run_id, id)',

  `CREATE TABLE refused (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    received INTEGER NOT NULL,
    topic TEXT NOT NULL,
    reason TEXT NOT NULL,
    size INTEGER NOT NULL,
    head BLOB NOT NULL
  ) STRICT`,

  `CREATE TABLE procedures (
    id TEXT NOT NULL,
    revision INTEGER NOT NULL,
    created INTEGER NOT NULL,
    "by" TEXT NOT NULL,
    body TEXT NOT NULL,
    PRIMARY KEY (id, revision)
  ) STRICT`,

  `CREATE TABLE probe (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    written INTEGER NOT NULL
  ) STRICT`,
];
