/** Alarms are found by when the service heard of them (those of earlier versions by when they were raised) and by seam. Refusals are counted from a time on. */
export const alarmSearch: readonly string[] = [
  "UPDATE alarms SET recorded = unixepoch(json_extract(record, '$.raisedAt')) * 1000000 WHERE recorded IS NULL",
  'CREATE INDEX alarms_by_arrival ON alarms (recorded)',
  'CREATE INDEX alarms_by_seam ON alarms (seam, number)',
  'CREATE INDEX alarms_over ON alarms (number) WHERE over = 0',
  'CREATE INDEX refused_by_arrival ON refused (received)',
];
