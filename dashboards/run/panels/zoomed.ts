export type Part = readonly [number, number];

/**
 * The part of an axis after a step: `factor` times as wide and moved by `shift` times its new width. Zooming keeps the cursor
 * where it is in the picture, or the middle if the cursor is outside.
 */
export function zoomed([from, to]: Part, factor: number, shift: number, cursor: number | null): Part {
  const width = to - from;
  const still = cursor !== null && cursor >= from && cursor <= to ? cursor : (from + to) / 2;
  const start = still - (still - from) * factor + width * factor * shift;
  return [start, start + width * factor];
}

/** The part moved so that it lies within the whole; null if it would show the whole. */
export function clamped([from, to]: Part, [first, last]: Part): Part | null {
  const width = to - from;
  if (width >= (last - first) * (1 - 1e-9)) return null;
  const start = Math.min(Math.max(from, first), last - width);
  return [start, start + width];
}
