/** Who gave, corrected or ended a job, when and why. `before` and `after` are assignments as JSON, null for none; `run_id` is the run to which the change belongs. */
export const jobChanges: readonly string[] = [
  `CREATE TABLE job_changes (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    site TEXT NOT NULL,
    carriage TEXT NOT NULL,
    run_id TEXT,
    at INTEGER NOT NULL,
    by TEXT NOT NULL,
    reason TEXT,
    before TEXT,
    after TEXT
  ) STRICT`,
  'CREATE INDEX job_changes_by_run ON job_changes (run_id, id)',
];
