/** Which tiles are seen, and how many pages there are. */
export interface FloorPages {
  readonly keys: readonly string[];
  readonly pages: number;
  /** From 0 on. */
  readonly page: number;
  /** Whether those in trouble stay while the others change. */
  readonly pinned: boolean;
}

/**
 * Splits what does not fit. Those in trouble stay on every page, unless they alone would fill half of it. `page` may be any whole number; it counts round.
 */
export function pageOfFloor(keys: readonly string[], troubled: number, perPage: number, page: number): FloorPages {
  if (keys.length <= perPage) return { keys, pages: 1, page: 0, pinned: false };
  const kept = troubled <= perPage / 2 ? troubled : 0;
  const others = keys.slice(kept);
  const room = perPage - kept;
  const pages = Math.ceil(others.length / room);
  const at = ((page % pages) + pages) % pages;
  return { keys: [...keys.slice(0, kept), ...others.slice(at * room, (at + 1) * room)], pages, page: at, pinned: kept > 0 };
}
