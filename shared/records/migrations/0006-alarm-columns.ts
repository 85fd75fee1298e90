/**
 * What alarms are found by, besides their state: when they were recorded (the service's clock, µs), priority, seam, and
 * whether they are over. Alarms of earlier versions have no seam, run number or times of recording. Live figures that
 * an older program published lack fields of today: they are dropped and published anew at the start.
 */
export const alarmColumns: readonly string[] = [
  'ALTER TABLE alarms ADD COLUMN recorded INTEGER',
  'ALTER TABLE alarms ADD COLUMN priority TEXT',
  'ALTER TABLE alarms ADD COLUMN seam TEXT',
  'ALTER TABLE alarms ADD COLUMN over INTEGER NOT NULL DEFAULT 1',
  `UPDATE alarms SET
    priority = json_extract(record, '$.priority'),
    over = json_extract(record, '$.returnedAt') IS NOT NULL OR json_extract(record, '$.withdrawn') IS NOT NULL,
    facts = json_set(facts, '$.seam', NULL, '$.runNumber', NULL, '$.recordedAt', NULL, '$.clearedRecordedAt', NULL),
    record = json_set(record, '$.seam', NULL, '$.runNumber', NULL, '$.recordedAt', NULL, '$.clearedRecordedAt', NULL)`,
  // Few are active at a time, however many nobody has acknowledged.
  'CREATE INDEX alarms_lasting ON alarms (stream_id) WHERE over = 0',
  "CREATE INDEX alarms_kept_from_normal ON alarms (stream_id, state, priority) WHERE state <> 'normal'",
  'UPDATE streams SET snapshot = NULL',
  // A stream that was settled when it left memory need not be read at the start; a retired one is hidden until it sends again.
  'ALTER TABLE streams ADD COLUMN settled INTEGER NOT NULL DEFAULT 0',
  'ALTER TABLE streams ADD COLUMN retired INTEGER NOT NULL DEFAULT 0',
  // Arrival of the newest message of any kind, µs.
  'ALTER TABLE streams ADD COLUMN heard INTEGER',
  "UPDATE streams SET heard = coalesce(last_seen, CAST(strftime('%s', 'now') AS INTEGER) * 1000000)",
];
