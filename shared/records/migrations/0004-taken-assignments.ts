/**
 * Assignments that came from an outside broker, by packet id and content: one whose acknowledgement got lost is sent
 * again, however many others came since.
 */
export const takenAssignments: readonly string[] = [
  `CREATE TABLE taken_assignments (
    number INTEGER PRIMARY KEY AUTOINCREMENT,
    stream_id INTEGER NOT NULL REFERENCES streams (id),
    message TEXT NOT NULL
  ) STRICT`,
  'CREATE INDEX taken_assignments_by_message ON taken_assignments (stream_id, message)',
];
