/**
 * Text to be read from 5 m needs capitals of at least 15 minutes of arc: 5 m · tan 15′ = 21.8 mm. On a screen of 55 inches (1,218 mm wide), in a face whose capitals are
 * 0.714 of its type (Noto Sans), that is a type of 0.0251 of the width: 48 px of 1,920. Text for people who walk up to the screen has two thirds of that.
 */
const leastShare = 0.0251;
/** The same for text that is read only close up. */
export const leastNearShare = (leastShare * 2) / 3;
/** Type larger than this gains nothing; common practice, no source. */
const mostShare = 0.045;
/** A heading of a hall, in units of the type. */
const headingHeight = 0.9;

/** What a tile shows, from most to least, and the room it needs in units of its type: everything; values with trends; values with the job below; values below the first line; values at its end. */
const kinds = {
  full: { width: 12.4, height: 9 },
  trends: { width: 9.8, height: 4.55 },
  lines: { width: 7.85, height: 3.3 },
  pair: { width: 8.5, height: 2.1 },
  line: { width: 8.5, height: 1.38 },
} as const;
/** Margin, border and padding of a tile on both sides, in units of its type; as in tile.css. */
const around = { full: 0.98, trends: 0.5, lines: 0.5, pair: 0.5, line: 0.5 } as const;

export type TileKind = keyof typeof kinds;

export interface FloorLayout {
  readonly kind: TileKind;
  readonly columns: number;
  /** Type in px, and the height of a tile. */
  readonly unit: number;
  readonly tileHeight: number;
  /** The inside of a tile: its width and its whole height, in units of its type. */
  readonly room: number;
  readonly high: number;
  /** How many tiles fit on a page: not all of them if they would be too small to read. */
  readonly perPage: number;
}

/** Lays out tiles for halls of so many carriages each, on a surface of that many px on a screen `screen` px wide, with as much on each tile as can be read. */
export function layFloor(halls: readonly number[], width: number, height: number, screen: number): FloorLayout {
  const count = halls.reduce((sum, own) => sum + own, 0);
  const least = screen * leastShare;
  for (const kind of ['full', 'trends', 'lines', 'pair', 'line'] as const) {
    const found = largest(kind, halls, width, height, screen * mostShare);
    if (found.unit >= least) return { kind, ...found, ...inside(kind, found, width), perPage: Math.max(1, count) };
  }
  const { width: wide, height: high } = kinds.line;
  const columns = Math.max(1, Math.floor(width / (least * wide)));
  // Any page may hold every hall, so there is room for a heading of each, and for an incomplete last row of each.
  const rows = Math.max(1, Math.floor((height - headings(halls) * least * headingHeight) / (least * high)) - Math.max(0, halls.length - 1));
  const found = { columns, unit: least, tileHeight: least * high };
  return { kind: 'line', ...found, ...inside('line', found, width), perPage: columns * rows };
}

/** The layout of a page that scrolls: tiles of that type, px, at least `least` px wide and as high as their content. */
export function layScrolling(width: number, unit: number, least: number): Pick<FloorLayout, 'room' | 'high' | 'unit'> {
  const columns = Math.max(1, Math.floor(width / least));
  return { room: width / columns / unit - around.full, high: Infinity, unit };
}

function inside(kind: TileKind, { columns, unit, tileHeight }: Pick<FloorLayout, 'columns' | 'unit' | 'tileHeight'>, width: number): Pick<FloorLayout, 'room' | 'high'> {
  return { room: width / columns / unit - around[kind], high: tileHeight / unit };
}

function largest(kind: TileKind, halls: readonly number[], width: number, height: number, most: number): { readonly columns: number; readonly unit: number; readonly tileHeight: number } {
  const { width: wide, height: high } = kinds[kind];
  const count = Math.max(1, ...halls);
  let best = { columns: 1, unit: 0, tileHeight: 0 };
  for (let columns = 1; columns <= count; columns += 1) {
    const rows = halls.reduce((sum, own) => sum + Math.ceil(own / columns), 0) || 1;
    const unit = Math.min(most, width / columns / wide, height / (rows * high + headings(halls) * headingHeight));
    if (unit > best.unit) best = { columns, unit, tileHeight: (height - headings(halls) * headingHeight * unit) / rows };
  }
  return { ...best, tileHeight: Math.min(best.tileHeight, best.unit * high * 1.5) };
}

/** One hall alone needs no heading. */
function headings(halls: readonly number[]): number {
  return halls.length > 1 ? halls.length : 0;
}
