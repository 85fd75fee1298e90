/**
 * What else is to be known of an imported log. `finished` (µs since 1970) stays null until all of it is stored: what is found so at a start was cut
 * off, and is removed by `runs`, JSON of the ids that its rows stand under. `zero` is the time of the log's zero, ms since 1970, where its times are relative.
 */
export const importEnds: readonly string[] = [
  'ALTER TABLE imports ADD COLUMN finished INTEGER',
  'ALTER TABLE imports ADD COLUMN zero REAL',
  "ALTER TABLE imports ADD COLUMN runs TEXT NOT NULL DEFAULT '[]'",
  'UPDATE imports SET finished = at',
];
