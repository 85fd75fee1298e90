/** Which tiles are seen, and how many pages there are. */
export interface FloorPages {
  readonly keys: readonly string[];
  readonly pages: number;
  /** From 0 on. */
  readonly page: number;
}

/** Splits what does not fit, each page as full as it goes but the last. `page` may be any whole number; it counts round. */
export function pageOfFloor(keys: readonly string[], perPage: number, page: number): FloorPages {
  const pages = Math.max(1, Math.ceil(keys.length / perPage));
  const at = ((page % pages) + pages) % pages;
  return { keys: keys.slice(at * perPage, (at + 1) * perPage), pages, page: at };
}
