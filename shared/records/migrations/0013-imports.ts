/**
 * More about an imported log. `finished` (µs since 1970) stays null until all of it is stored: a log found so at a start was cut
 * off, and is removed by `runs`, JSON of the ids of its rows. `zero` is the time of the log's zero, ms since 1970, if its times are relative.
 */
export const importEnds: readonly string[] = [
  'ALTER TABLE imports ADD COLUMN finished INTEGER',
  'ALTER TABLE imports ADD COLUMN zero REAL',
  "ALTER TABLE imports ADD COLUMN runs TEXT NOT NULL DEFAULT '[]'",
  'UPDATE imports SET finished = at',
];
