/** A thing that takes room in a lane, CSS px: its own, and with what is written beside it. */
export interface LaneBlock {
  readonly left: number;
  readonly right: number;
}

export interface LanePlace {
  readonly lane: number;
  /** Another block lies here too, as there are no more lanes: nothing can be written. */
  readonly crowded: boolean;
}

/** So many lanes at most; what finds no room in them lies in the last one. */
const mostLanes = 4;

/** The lane of each block, given in the order of their left ends, so that none lies on another as far as the lanes go. */
export function lanesOf(blocks: readonly LaneBlock[]): LanePlace[] {
  const ends: number[] = [];
  return blocks.map(({ left, right }) => {
    const free = ends.findIndex((end) => end <= left);
    const crowded = free < 0 && ends.length >= mostLanes;
    const lane = free >= 0 ? free : crowded ? mostLanes - 1 : ends.length;
    ends[lane] = Math.max(ends[lane] ?? 0, right);
    return { lane, crowded };
  });
}
