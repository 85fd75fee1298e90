/**
 * The part of an axis after a step: `factor` times as wide and moved by `shift` times its new width. Zooming keeps the cursor
 * where it is in the picture, if it is in the part, else the middle.
 */
export function zoomed([from, to]: readonly [number, number], factor: number, shift: number, cursor: number | null): readonly [number, number] {
  const width = to - from;
  const still = cursor !== null && cursor >= from && cursor <= to ? cursor : (from + to) / 2;
  const start = still - (still - from) * factor + width * factor * shift;
  return [start, start + width * factor];
}
