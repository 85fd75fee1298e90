/**
 * The excursions of a run, split into pieces: a run that goes on for days has thousands of them, of which a second changes only the last. Runs of
 * earlier versions have theirs among their marks.
 */
export const excursionPieces: readonly string[] = [
  `CREATE TABLE excursion_pieces (
    run_id TEXT NOT NULL REFERENCES runs (id) ON DELETE CASCADE,
    piece INTEGER NOT NULL,
    list TEXT NOT NULL,
    PRIMARY KEY (run_id, piece)
  ) STRICT`,
];
