/** Alarms, each a record of its moment, kept for good. `facts` is what they are followed by, `record` what the API answers. */
export const alarmTable: readonly string[] = [
  `CREATE TABLE alarms (
    number INTEGER PRIMARY KEY AUTOINCREMENT,
    id TEXT NOT NULL UNIQUE,
    stream_id INTEGER REFERENCES streams (id),
    run_id TEXT,
    site TEXT,
    carriage TEXT,
    state TEXT NOT NULL,
    facts TEXT NOT NULL,
    record TEXT NOT NULL
  ) STRICT`,
  'CREATE INDEX alarms_by_run ON alarms (run_id, number)',
  'CREATE INDEX alarms_by_carriage ON alarms (carriage, site, number)',
  'CREATE INDEX alarms_by_state ON alarms (state, number)',
  // Few are active at a time, and they are requested all day.
  "CREATE INDEX alarms_standing ON alarms (stream_id) WHERE state <> 'normal'",
];
