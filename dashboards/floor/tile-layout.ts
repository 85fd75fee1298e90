/** A small tile in units of its type size, with the gap to the next; a large one takes two by two. */
const cell = { width: 11.5, height: 6.7 };

/** Smallest type as a share of the width: on a screen of 55 inches (1,218 mm) a capital is 8 mm high then, and 5.6′ at 5 m; normal sight tells letters of 5′ apart. */
const leastShare = 0.0094;
/** Type from which on every carriage gets a large tile; common practice, no source. */
const easyShare = 0.0135;

export interface TileLayout {
  readonly columns: number;
  readonly rows: number;
  /** Type size in px. */
  readonly unit: number;
  /** How many of the first tiles are large. */
  readonly large: number;
  /** How many tiles stand on a page; fewer than there are carriages where they would be too small to read. */
  readonly perPage: number;
}

/** Tiles for `count` carriages, of which the first `troubled` are in trouble, on a surface of that many px. */
export function layTiles(count: number, troubled: number, width: number, height: number): TileLayout {
  const least = width * leastShare;
  const allLarge = largestType(count, count, width, height);
  if (allLarge.unit >= width * easyShare) return { ...allLarge, large: count, perPage: count };
  for (let large = Math.min(troubled, count); large >= 0; large -= 1) {
    const found = largestType(count, large, width, height);
    if (found.unit >= least) return { ...found, large, perPage: count };
  }
  const columns = Math.max(1, Math.floor(width / (least * cell.width)));
  const rows = Math.max(1, Math.floor(height / (least * cell.height)));
  return { columns, rows, unit: Math.min(width / columns / cell.width, height / rows / cell.height), large: 0, perPage: columns * rows };
}

function largestType(count: number, large: number, width: number, height: number): { readonly columns: number; readonly rows: number; readonly unit: number } {
  const cells = count + 3 * large;
  let best = { columns: 1, rows: cells, unit: 0 };
  for (let columns = large > 0 ? 2 : 1; columns <= Math.max(2, cells); columns += 1) {
    // Small tiles fill what the bands of large ones leave over.
    const bands = Math.ceil(large / Math.floor(columns / 2));
    const rows = Math.max(2 * bands, Math.ceil(cells / columns));
    const unit = Math.min(width / columns / cell.width, height / rows / cell.height);
    if (unit > best.unit) best = { columns, rows, unit };
  }
  return best;
}
