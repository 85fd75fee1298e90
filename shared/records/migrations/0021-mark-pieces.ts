/** The beginnings of long marks of a boot (shared/weld/items/seq-marks-text.ts), so that an item need not rewrite all of them. `arc` is 0 for marks of all arcs. */
export const markPieces: readonly string[] = [
  `CREATE TABLE mark_pieces (
    boot_id INTEGER NOT NULL REFERENCES boots (id) ON DELETE CASCADE,
    arc INTEGER NOT NULL,
    piece INTEGER NOT NULL,
    steps TEXT NOT NULL,
    PRIMARY KEY (boot_id, arc, piece)
  ) STRICT`,
];
